import type { MeasuredRound } from '../../store/appState.ts';
import { earReadings } from './earReadings.ts';

/** Where no spoke of the round has a tension: that there is nothing to compare, and what to do. */
export const NoEar = ({ measured }: { readonly measured: MeasuredRound | undefined }) =>
  measured?.status === 'ready' && earReadings(measured).size === 0 ? (
    <p class="note caution">
      This round by ear gave no spoke a tension, so there is nothing to compare. The gauge’s readings are kept: the
      table of the round tells why each spoke has none; mend that, or hear the wheel again, and come back.
    </p>
  ) : null;
