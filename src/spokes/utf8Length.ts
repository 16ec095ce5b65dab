/**
 * Bytes that a text takes in a file.
 *
 * @source RFC 3629, section 3: one to U+007F, two to U+07FF, three to U+FFFF, four beyond, which are two units of UTF-16
 */
export function utf8Length(text: string): number {
  let bytes = text.length;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    if (unit > 0x7f) bytes++;
    if (unit > 0x7ff && !(unit >= 0xd800 && unit <= 0xdfff)) bytes++;
  }
  return bytes;
}
