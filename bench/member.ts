/**
 * The member's accuracy and speed as tables: `npx tsx bench/member.ts [--quick]`.
 *
 * Wheels come from the finite elements of test/signals (another equation solver, another catalogue): end springs 1–300 N·m/rad log-uniform
 * with 15 % scatter, mass 1 %, length 0.5 mm, crossing 1.5 mm and stiffness 3 % off, one draw a side. Nothing is asserted here.
 */
import { pathToFileURL } from 'node:url';
import type { Member } from '../src/physics/member.ts';
import { modes } from '../src/physics/modes.ts';
import { tensionOf } from '../src/physics/tensionOf.ts';
import { metres, newtonMetresPerRadian, newtons, newtonsPerMetre } from '../src/units.ts';
import { type Kind, STEEL_KINDS } from '../test/signals/catalogue.ts';
import { seededRandom } from '../test/signals/random.ts';
import { missingPartials } from './memberNumbering.ts';
import { limitRow, plain, rich, runScene, type Scene } from './memberScenes.ts';
import { Score } from './memberScore.ts';
import { speed } from './memberSpeed.ts';
import { round } from './memberTrial.ts';
import { simplerWays } from './simplerWays.ts';
import { table } from './tables.ts';

const COMPOSITE: readonly Kind[] = ['compositeRod', 'compositeBlade'];
const METAL: readonly Kind[] = [...STEEL_KINDS, 'titanium2.0'];

const roundTrips = (runs: number): number => {
  const random = seededRandom('bench inversion');
  let worst = 0;
  for (let i = 0; i < runs; i++) {
    const sections = Array.from({ length: random.integer(1, 4) }, () =>
      round(random.uniform(0.04, 0.09), random.uniform(0.0014, 0.0032), 193e9, 7900),
    );
    const length = sections.reduce((sum, s) => sum + s.length, 0);
    const held = random.chance(0.5);
    const member: Member = {
      sections,
      ...(held ? { crossingFromHub: metres(length * random.uniform(0.15, 0.45)) } : {}),
    };
    const crossing = held
      ? ({ kind: 'support', stiffness: newtonsPerMetre(random.logUniform(1e5, 1e8)) } as const)
      : ({ kind: 'none' } as const);
    const end = () => {
      const k = newtonMetresPerRadian(random.logUniform(0.1, 500));
      return { inPlane: k, across: k };
    };
    const ends = { hub: end(), rim: end() };
    const tension = random.logUniform(20, 3000);
    const mode = random.integer(1, 4);
    const f = modes(member, newtons(tension), ends, 'inPlane', crossing, mode)[mode - 1];
    if (f === undefined) continue;
    const back = tensionOf(member, f, mode, ends, 'inPlane', crossing);
    worst = Math.max(worst, back.ok ? Math.abs(back.tension / tension - 1) : 1);
  }
  return worst;
};

export const benchMember = async (): Promise<void> => {
  const quick = process.argv.includes('--quick');
  const wheels = quick ? 10 : 200;
  table('Speed, least of several runs', ['', 'ms', 'reference loops', 'aim'], speed());
  console.log(
    `\nTension → tone → tension, worst of ${quick ? 1000 : 10000} random members: ${roundTrips(quick ? 1000 : 10000).toExponential(1)}`,
  );
  const scenes: Scene[] = [
    { name: 'metal, tones 1–4, 0.1 % noise', kinds: METAL, pluck: plain(4) },
    { name: 'metal, tones 1–4, one spoke known to 3 %', kinds: METAL, pluck: plain(4), known: true },
    { name: 'metal, both planes, pair, rim, neighbours', kinds: METAL, pluck: rich(1) },
    { name: 'the same, three plucks at several places', kinds: METAL, pluck: rich(3) },
    { name: 'composite, tones 1–2', kinds: COMPOSITE, pluck: plain(2) },
    { name: 'composite, tones 1–2, one spoke known', kinds: COMPOSITE, pluck: plain(2), known: true },
    { name: 'composite, tones 1–4', kinds: COMPOSITE, pluck: plain(4) },
    { name: 'composite, both planes …, three plucks', kinds: COMPOSITE, pluck: rich(3) },
  ];
  table(
    `Accuracy on ${wheels} simulated wheels a line`,
    Score.HEAD,
    scenes.flatMap((scene) => runScene(scene, wheels)),
  );
  table('What the tones of the plain lines allow: exact model, every prior known, linear', Score.HEAD, [
    limitRow('metal, tones 1–4, 0.1 % noise', METAL, 4, wheels),
    limitRow('composite, tones 1–2', COMPOSITE, 2, wheels),
    limitRow('composite, tones 1–4', COMPOSITE, 4, wheels),
  ]);
  table('Simpler ways on the same metal wheels', Score.HEAD, simplerWays(METAL, wheels));
  table('Simpler ways on the same composite wheels', Score.HEAD, simplerWays(COMPOSITE, Math.ceil(wheels / 2)));
  table(
    'Numbering',
    ['', 'runs', 'answered %', 'right of answered %', 'best not found'],
    missingPartials(quick ? 200 : 2000),
  );
};

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) await benchMember();
