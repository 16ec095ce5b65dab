/**
 * The whole chain on simulated wheels: sound → ear → member → wheel. The simulator (test/signals, style `rich`) shares no code with
 * either room and its physics is richer than the member's; what the person wrote down is off by mass, length, crossing and stiffness.
 *
 * Run alone: `npx tsx bench/chain.ts [--wheels N] [--snr DB] [--kind KIND] [--style rich|full] [--crossing held|free] [--direction inPlane|across]`
 */
import { createEar } from '../src/audio/createEar.ts';
import type { Heard, How } from '../src/contract.ts';
import { expectedTones } from '../src/physics/expectedTones.ts';
import { measureSpoke } from '../src/physics/measureSpoke.ts';
import { measureWheel } from '../src/physics/measureWheel.ts';
import type { DescribedMember } from '../src/physics/member.ts';
import { type PreparedMember, prepareMember } from '../src/physics/prepareMember.ts';
import type { SpokeTones } from '../src/physics/spokeTones.ts';
import { hertz, kilogramsPerMetre, metres, newtonMetresSquared, newtons } from '../src/units.ts';
import type { Kind } from '../test/signals/catalogue.ts';
import { DEFAULT_ERRORS, type DrawnWheel, drawWheel } from '../test/signals/drawWheel.ts';
import { simulateRound } from '../test/signals/round.ts';
import { quantile } from './tables.ts';

export interface ChainOptions {
  readonly wheels: number;
  readonly snrDb: number;
  readonly style: 'rich' | 'full';
  readonly how: How;
  readonly kinds?: readonly Kind[];
  readonly seed?: string;
  readonly verbose?: boolean;
}

interface SpokeResult {
  readonly truthN: number;
  readonly side: string;
  readonly alone?: { readonly errorPercent: number; readonly uPercent: number };
  readonly joint?: { readonly errorPercent: number; readonly uPercent: number; readonly uOwnPercent: number };
  readonly reason?: string;
}

const describe = (drawn: DrawnWheel['described'][number]): DescribedMember => ({
  member: {
    sections: drawn.pieces.map((piece) => ({
      length: metres(piece.lengthM),
      massPerLength: kilogramsPerMetre(piece.massKgPerM),
      bendingInPlane: newtonMetresSquared(piece.bendingInPlane),
      bendingAcross: newtonMetresSquared(piece.bendingAcross),
      axial: newtons(piece.axialN),
      ...(piece.shearN === undefined ? {} : { shear: newtons(piece.shearN) }),
    })),
    ...(drawn.crossingFromHubM === undefined ? {} : { crossingFromHub: metres(drawn.crossingFromHubM) }),
  },
  uncertainty: {
    massRelative: DEFAULT_ERRORS.massRelative,
    length: metres(DEFAULT_ERRORS.lengthM),
    crossing: metres(DEFAULT_ERRORS.crossingM),
    stiffnessRelative: DEFAULT_ERRORS.stiffnessRelative,
  },
});

/** Every spoke of one simulated wheel, plucked twice, heard and measured. */
export function chainOfWheel(
  seed: string,
  options: ChainOptions,
): { kind: Kind; crossed: boolean; spokes: SpokeResult[] } {
  const drawn = drawWheel(seed, options.kinds ? { kinds: options.kinds } : {});
  const crossed = drawn.spokes[0]?.crossingFromHubM !== undefined;
  const how: How = crossed ? options.how : { ...options.how, crossing: 'none' };
  const { direction } = options.how;
  const round = simulateRound({
    seed,
    spokes: drawn.spokes,
    style: options.style,
    snrDb: options.snrDb,
    ...(options.style === 'rich' && {
      how: {
        crossing: options.how.crossing === 'free' ? 'free' : 'held',
        direction: direction === 'across' ? 'across' : 'inPlane',
      },
    }),
  });
  const prepared = new Map<string, PreparedMember>();
  const preparedOf = (spoke: number): PreparedMember => {
    const side = drawn.spokes[spoke - 1]?.side as string;
    let member = prepared.get(side);
    if (!member) {
      member = prepareMember(describe(drawn.described[spoke - 1] as DrawnWheel['described'][number]));
      prepared.set(side, member);
    }
    return member;
  };
  const rate = hertz(round.sampleRateHz);
  const heard = new Map<number, Heard[]>();
  const reasons = new Map<number, string>();
  for (const [i, cue] of round.cues.entries()) {
    const ear = createEar({
      sampleRateHz: rate,
      settings: { sampleRateHz: rate },
      expected: expectedTones(preparedOf(cue.spoke), how),
    });
    const end = round.cues[i + 1]?.timeS ?? cue.timeS + 1.6;
    const from = Math.max(0, cue.timeS - 0.35);
    const events = [...ear.push(round.samples.subarray(from * rate, Math.round((end - 0.02) * rate))), ...ear.end()];
    for (const event of events) {
      if (event.kind !== 'heard') continue;
      if (!event.heard.ok) reasons.set(cue.spoke, event.heard.reason);
      else if (Math.abs(from + event.heard.onsetS - cue.timeS) < 0.15) {
        heard.set(cue.spoke, [...(heard.get(cue.spoke) ?? []), event.heard]);
      }
    }
  }
  const tones: SpokeTones[] = drawn.spokes.map((spoke, i) => ({
    id: i + 1,
    prepared: preparedOf(i + 1),
    plucks: (heard.get(i + 1) ?? []).map(({ tones, covarianceHz2, hypotheses, flags }) => ({
      tones,
      covarianceHz2,
      hypotheses,
      flags,
      how,
    })),
    group: spoke.side,
  }));
  const joint = measureWheel(tones);
  const spokes = drawn.spokes.map((spoke, i): SpokeResult => {
    const truthN = spoke.tensionN;
    const alone = measureSpoke(tones[i] as SpokeTones);
    const together = joint.readings.get(i + 1);
    const percent = (n: number) => (100 * n) / truthN;
    return {
      truthN,
      side: spoke.side,
      ...(alone.ok && {
        alone: {
          errorPercent: percent(alone.tensionN - truthN),
          uPercent: percent(Math.hypot(alone.uOwnN, alone.uCommonN)),
        },
      }),
      ...(together?.ok && {
        joint: {
          errorPercent: percent(together.tensionN - truthN),
          uPercent: percent(Math.hypot(together.uOwnN, together.uCommonN)),
          uOwnPercent: percent(together.uOwnN),
        },
      }),
      ...(!together?.ok && {
        reason: together?.reason === 'noTones' ? (reasons.get(i + 1) ?? 'noTones') : (together?.reason ?? 'none'),
      }),
    };
  });
  return { kind: drawn.kind, crossed, spokes };
}

const row = (name: string, n: number, errors: readonly { errorPercent: number; uPercent: number }[]): string => {
  const absolute = errors.map((e) => Math.abs(e.errorPercent));
  const covered = errors.filter((e) => Math.abs(e.errorPercent) <= 1.96 * e.uPercent).length / errors.length;
  const gross = absolute.filter((e) => e > 15).length / errors.length;
  const show = (value: number) => value.toFixed(2).padStart(7);
  return `${name.padEnd(24)} ${String(n).padStart(5)} ${show((100 * errors.length) / n)} ${show(quantile(absolute, 0.5))} ${show(quantile(absolute, 0.95))} ${show(100 * gross)} ${show(100 * covered)} ${show(
    2 *
      quantile(
        errors.map((e) => e.uPercent),
        0.5,
      ),
  )}`;
};

export async function benchChain(options: ChainOptions): Promise<void> {
  const classes = new Map<string, SpokeResult[]>();
  const within = new Map<string, number[]>();
  const reasons = new Map<string, number>();
  for (let w = 0; w < options.wheels; w++) {
    const wheel = chainOfWheel(`${options.seed ?? 'chain'}${w}`, options);
    const name = /rod|composite|carbon/i.test(wheel.kind) ? 'composite' : 'metal';
    const key = `${name} ${wheel.crossed ? 'crossed' : 'uncrossed'}`;
    classes.set(key, [...(classes.get(key) ?? []), ...wheel.spokes]);
    for (const side of ['left', 'right']) {
      const errors = wheel.spokes.flatMap((s) => (s.side === side && s.joint ? [s.joint.errorPercent] : []));
      const mean = errors.reduce((a, b) => a + b, 0) / Math.max(1, errors.length);
      within.set(key, [...(within.get(key) ?? []), ...errors.map((e) => Math.abs(e - mean))]);
    }
    for (const { reason } of wheel.spokes) if (reason) reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
    if (options.verbose) {
      const errors = wheel.spokes.flatMap((s) => (s.joint ? [s.joint.errorPercent] : []));
      console.log(
        `wheel ${w} ${wheel.kind}${wheel.crossed ? '' : ' uncrossed'} answered ${errors.length}/${wheel.spokes.length} median ${quantile(errors.map(Math.abs), 0.5).toFixed(2)} % worst ${quantile(errors.map(Math.abs), 1).toFixed(1)} % signed ${quantile(errors, 0.5).toFixed(2)} %`,
      );
    }
  }
  console.log(`\nchain, ${options.style}, ${options.how.crossing}, ${options.how.direction}, ${options.snrDb} dB`);
  console.log('                           n   answ.%  median%   95th%  >15 %  cover%  med U %');
  for (const [key, results] of classes) {
    console.log(
      row(
        `${key}, alone`,
        results.length,
        results.flatMap((s) => (s.alone ? [s.alone] : [])),
      ),
    );
    console.log(
      row(
        `${key}, jointly`,
        results.length,
        results.flatMap((s) => (s.joint ? [s.joint] : [])),
      ),
    );
    const side = within.get(key) ?? [];
    console.log(
      `${`${key}, in a side`.padEnd(38)} ${quantile(side, 0.5).toFixed(2).padStart(7)} ${quantile(side, 0.95).toFixed(2).padStart(7)}`,
    );
  }
  if (reasons.size) console.log('not answered:', Object.fromEntries(reasons));
}

if (process.argv[1]?.endsWith('chain.ts')) {
  const option = (name: string, fallback: string) => {
    const at = process.argv.indexOf(`--${name}`);
    return at < 0 ? fallback : (process.argv[at + 1] ?? fallback);
  };
  const kind = option('kind', '');
  await benchChain({
    wheels: Number(option('wheels', '10')),
    snrDb: Number(option('snr', '25')),
    style: option('style', 'rich') as 'rich' | 'full',
    how: {
      crossing: option('crossing', 'held') as How['crossing'],
      direction: option('direction', 'inPlane') as How['direction'],
    },
    ...(kind && { kinds: [kind as Kind] }),
    seed: option('seed', 'chain'),
    verbose: true,
  });
}
