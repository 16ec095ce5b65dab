const two = (value: number): string => String(value).padStart(2, '0');

/** The day of a moment where the person is, as in ISO 8601. @param iso ISO 8601, UTC */
export function localDay(iso: string): string {
  const at = new Date(iso);
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

/** Day and time of a moment where the person is, to the minute. @param iso ISO 8601, UTC */
export function localMinute(iso: string): string {
  const at = new Date(iso);
  return `${localDay(iso)} ${two(at.getHours())}:${two(at.getMinutes())}`;
}
