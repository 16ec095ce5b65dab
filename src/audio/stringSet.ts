import type { SetTone, ToneSet } from './toneSet.ts';

/** Inharmonicity of an instrument's string, B of n√((1 + Bn²)/(1 + B)), and its spread: of spokes it is 0.002 at the least. */
const INHARMONICITY = 3e-4;
const SPREAD = 4e-4;
/** Each tone of a string lies by the law so closely: a bridge moves. */
const OWN = 0.003;
const MODES = 12;
const LOWEST_FIRST_HZ = 40;
const HIGHEST_FIRST_HZ = 2000;

let made: ToneSet | undefined;

/**
 * Tones of an instrument's string, one row of nearly whole multiples whose inharmonicity is learnt from the tones that are laid.
 * A plucked or struck string has more loud tones than a spoke, often without the first among the loudest, and the free ratios of
 * spokes then call the second or third the first.
 * @source Fletcher 1964, J. Acoust. Soc. Am. 36:203 (pinned stiff string); Fletcher and Rossing 1998, The Physics of Musical Instruments, ch. 12
 */
export function stringSet(): ToneSet {
  if (made) return made;
  const from = Math.log(LOWEST_FIRST_HZ);
  const step = Math.log(HIGHEST_FIRST_HZ) - from;
  /** Rise of ln frequency by the inharmonicity. */
  const bent = Array.from({ length: MODES }, (_, i) => ((i + 1) ** 2 - 1) / 2);
  const covariance = Float64Array.from(
    { length: MODES * MODES },
    (_, k) => SPREAD ** 2 * (bent[Math.floor(k / MODES)] as number) * (bent[k % MODES] as number),
  );
  made = {
    plane: 'unknown',
    family: 'segment',
    guess: true,
    string: true,
    from,
    step,
    modes: bent.map((rise, i): SetTone => {
      const ln = from + Math.log(i + 1) + INHARMONICITY * rise;
      return {
        numbers: Uint8Array.of(i + 1, i + 1),
        ln: Float64Array.of(ln, ln + step),
        u: Float64Array.of(OWN, OWN),
        ends: new Float64Array(2),
        share: new Float64Array(2).fill(0.5 / (1 + INHARMONICITY * (i + 1) ** 2)),
      };
    }),
    covariance: [covariance, covariance],
    companions: [],
  };
  return made;
}
