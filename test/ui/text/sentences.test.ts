import { describe, expect, it } from 'vitest';
import type { How } from '../../../src/contract.ts';
import type { WheelProblemReason } from '../../../src/spokes/wheelProblem.ts';
import { describeReasonText } from '../../../src/ui/screens/describe/describeReasonText.ts';
import type { SpokeView } from '../../../src/ui/screens/judge/judgementOf.ts';
import type { LiveRound } from '../../../src/ui/store/appState.ts';
import type { MessageCode } from '../../../src/ui/store/message.ts';
import { CORRECTION_REASON_TEXT } from '../../../src/ui/text/correctionReasonText.ts';
import { HEARD_FLAG_TEXT } from '../../../src/ui/text/heardFlagText.ts';
import { HEAR_REASON_TEXT } from '../../../src/ui/text/hearReasonText.ts';
import { ACROSS_REASON, pluckSentence } from '../../../src/ui/text/howText.ts';
import { MEASURE_REASON_TEXT } from '../../../src/ui/text/measureReasonText.ts';
import { messageText } from '../../../src/ui/text/messageText.ts';
import { spokenSentence } from '../../../src/ui/text/settledSentence.ts';
import { UNCERTAIN_INPUT_TEXT } from '../../../src/ui/text/uncertainInputText.ts';
import { wheelProblemText } from '../../../src/ui/text/wheelProblemText.ts';

const MESSAGES: readonly MessageCode[] = [
  'microphoneRefused',
  'microphoneBluetooth',
  'rateTooLow',
  'rateUntrue',
  'soundProcessed',
  'samplesLost',
  'storageFull',
  'storageUnreadable',
  'fileNewer',
  'fileTooLarge',
  'backupTooLarge',
  'wheelTooLarge',
  'fileFieldsUnknown',
  'fileSpokesUnknown',
  'sound:notWav',
  'sound:noFormat',
  'sound:noSamples',
  'sound:encodingUnknown',
  'sound:rateUnsupported',
  'sound:channelsUnsupported',
  'roundContinued',
];
/** Every reason once: the compiler asks for those that are new. */
const PROBLEMS = Object.keys({
  notJson: 1,
  tooBig: 1,
  notAWheelFile: 1,
  newerVersion: 1,
  missing: 1,
  wrongType: 1,
  outOfRange: 1,
  tooLong: 1,
  unknownWord: 1,
  unknownKind: 1,
  unknownMaterial: 1,
  unknownNipple: 1,
  unknownField: 1,
  noSuchSpoke: 1,
  limitsContradict: 1,
} satisfies Record<WheelProblemReason, 1>) as WheelProblemReason[];
const HOWS: readonly How[] = (['held', 'free', 'none'] as const).flatMap((crossing) =>
  (['inPlane', 'across', 'unknown'] as const).map((direction) => ({ crossing, direction })),
);
/** What a person is told to do. */
const TODO =
  /\b(add|ask|check|choose|copy|correct|count|describe|empty|enter|export|give|hear|hold|leave|let|make|measure|name|open|pluck|pull|record|save|shorten|start|unpack|update|weigh|write)\b/i;
const advice = [
  ...Object.values(HEAR_REASON_TEXT),
  ...Object.values(MEASURE_REASON_TEXT),
  ...Object.values(CORRECTION_REASON_TEXT),
  messageText('fileBroken'),
  messageText('fileBroken', wheelProblemText({ path: 'wheel.layout', reason: 'missing', detail: '–' })),
  ...MESSAGES.flatMap((code) => [messageText(code), messageText(code, '7')]),
];
const sentences = [
  ...advice.flatMap(({ sentence, next }) => [sentence, next]),
  ...Object.values(HEARD_FLAG_TEXT),
  ...Object.values(describeReasonText).map((say) => say('7')),
  ...PROBLEMS.flatMap((reason) => [
    wheelProblemText({ path: 'wheel.sides', reason, detail: '7' }),
    wheelProblemText({ path: '', reason, detail: '7' }),
  ]),
  ...HOWS.map(pluckSentence),
  ACROSS_REASON,
  ...Object.values(UNCERTAIN_INPUT_TEXT).map(({ narrow }) => narrow),
].filter((text) => text !== '');

describe('every sentence of the app', () => {
  it.each(sentences)('ends like a sentence and does not shout: %s', (sentence) => {
    expect(sentence).toMatch(/^[\p{Lu}\p{N}“]/u);
    expect(sentence).toMatch(/\.$/);
    expect(sentence).not.toContain('!');
    expect(sentence).not.toMatch(/undefined|NaN|\[object/);
  });
  it.each(Object.entries(HEAR_REASON_TEXT))('says what to do after %s', (_, { next }) => {
    expect(next).not.toBe('');
  });
  it.each(Object.entries(describeReasonText))('says what to do where a description is refused: %s', (_, say) => {
    expect(say('7')).toMatch(TODO);
  });
  it.each(PROBLEMS)('says what to do where a wheel file is refused: %s', (reason) => {
    expect(wheelProblemText({ path: 'wheel.sides', reason, detail: '7' })).toMatch(TODO);
  });
  it.each(advice.map(({ sentence, next }) => [sentence, next]))('leaves nobody without a next step: %s', (_, next) => {
    expect(next).not.toBe('');
  });
  it('names the detail where there is one', () => {
    expect(messageText('soundProcessed', 'gain control').sentence).toContain('gain control');
    expect(messageText('fileNewer', '3').sentence).toContain('3');
  });
});

describe('what is said aloud of a settled spoke', () => {
  const live = { phase: 'walking', spoke: 6, side: 'right' } as LiveRound;
  const view = (value: string, unit: 'N' | '%', word: string) =>
    ({ number: 5, word, figure: { value, plusMinus: '30', unit } }) as SpokeView;

  it('is short where all is in order, and names what is off', () => {
    expect(spokenSentence(live, view('612', 'N', 'within, even'))).toBe(
      'Spoke 5: 612 newtons. Next is spoke 6, right.',
    );
    expect(spokenSentence(live, view('1299', 'N', 'over the limit, tight'))).toBe(
      'Spoke 5: 1299 newtons, over the limit, tight. Next is spoke 6, right.',
    );
    expect(spokenSentence(live, view('−16.2', '%', 'slack'))).toBe(
      'Spoke 5: minus 16.2 percent, slack. Next is spoke 6, right.',
    );
  });
});
