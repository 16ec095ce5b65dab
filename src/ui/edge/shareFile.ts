/** What became of a file that was handed over. */
export type Shared = 'shared' | 'downloaded' | 'cancelled' | 'failed';

/**
 * Hands a file to the system's share sheet, or downloads it. JSON is not shareable everywhere: where only its kind is refused it
 * goes out as `.txt`, and comes back in just the same.
 */
export async function shareFile(name: string, type: string, content: BlobPart): Promise<Shared> {
  const asIs = new File([content], name, { type });
  const asText = new File([content], `${name}.txt`, { type: 'text/plain' });
  const shareable = [asIs, ...(type === 'application/json' ? [asText] : [])].find(
    (file) => prefersSharing() && navigator.canShare?.({ files: [file] }),
  );
  if (shareable) {
    try {
      await navigator.share({ files: [shareable], title: name });
      return 'shared';
    } catch (error) {
      if ((error as { name?: string }).name === 'AbortError') return 'cancelled';
    }
  }
  return download(asIs);
}

/** A share sheet serves where there is no folder to save into: on touch devices. */
const prefersSharing = () =>
  typeof navigator.share === 'function' && globalThis.matchMedia?.('(pointer: coarse)').matches === true;

function download(file: File): Shared {
  try {
    const url = URL.createObjectURL(file);
    const link = document.createElement('a');
    link.href = url;
    link.download = file.name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 60_000);
    return 'downloaded';
  } catch {
    return 'failed';
  }
}
