import { prepareMember } from '../../src/physics/prepareMember.ts';
import { expandLayout } from '../../src/spokes/expandLayout.ts';
import { judgeWheel } from '../../src/spokes/judgeWheel.ts';
import { readRound } from '../../src/spokes/readRound.ts';
import { rememberPrepared } from '../../src/spokes/rememberPrepared.ts';
import { reportView } from '../../src/spokes/reportView.ts';
import { plainWheel } from './plainWheel.ts';
import { SIMULATED, simulatedRound } from './simulatedRound.ts';

export const { truth } = SIMULATED;
/** With a maximum; its simulated round is read, judged and reported below. */
export const wheel = plainWheel({}, { limits: { maximumN: 1150, unit: 'N', source: 'test', state: { tyre: 'off' } } });
const laid = expandLayout(wheel.layout);
export const sides = laid.ok ? laid.spokes.map((spoke) => spoke.side) : [];
export const prepare = rememberPrepared(prepareMember);
export const round = simulatedRound(wheel);
export const readings = readRound(wheel, round, prepare);
export const judgement = judgeWheel(wheel, round, readings.readings, {}, readings.described);
export const report = reportView(wheel, round, readings, judgement);
