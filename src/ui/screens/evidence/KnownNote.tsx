import type { Wheel } from '../../../spokes/wheel.ts';

/** Before any figure of agreement: what the ear was told. */
export function KnownNote({ wheel: { calibrations } }: { readonly wheel: Wheel }) {
  if (calibrations.length === 0) return null;
  const methods = [...new Set(calibrations.map((one) => one.method || 'method not named'))];
  return (
    <p class="note caution">
      The ear’s tensions of this wheel rest on known ones ({methods.join('; ')}). If this gauge told them, ear and gauge
      agree because of that, and what follows runs in a circle.
    </p>
  );
}
