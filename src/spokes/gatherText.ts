const PART = 8192;

/** Collects characters of a long text in parts: an array of one string each would take thirty times the text's own memory. */
export function gatherText(): { readonly add: (point: number) => void; readonly text: () => string } {
  const units = new Uint16Array(PART);
  const parts: string[] = [];
  let used = 0;
  const flush = () => {
    parts.push(String.fromCharCode(...units.subarray(0, used)));
    used = 0;
  };
  const put = (unit: number) => {
    if (used === PART) flush();
    units[used++] = unit;
  };
  return {
    /** @param point a Unicode code point; beyond 0xFFFF it takes a surrogate pair, RFC 2781, section 2.1 */
    add: (point) => {
      if (point < 0x10000) return put(point);
      put(0xd800 + ((point - 0x10000) >> 10));
      put(0xdc00 + ((point - 0x10000) & 0x3ff));
    },
    text: () => {
      flush();
      return parts.join('');
    },
  };
}
