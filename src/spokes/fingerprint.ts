/** FNV-1a, 32 bits: a stable name for a file that has none. @source Fowler, Noll & Vo, draft-eastlake-fnv (from memory) */
export function fingerprint(text: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, '0');
}
