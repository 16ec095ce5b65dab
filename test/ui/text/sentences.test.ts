import { describe, expect, it } from 'vitest';
import type { MessageCode } from '../../../src/ui/store/message.ts';
import { HEARD_FLAG_TEXT } from '../../../src/ui/text/heardFlagText.ts';
import { HEAR_REASON_TEXT } from '../../../src/ui/text/hearReasonText.ts';
import { MEASURE_REASON_TEXT } from '../../../src/ui/text/measureReasonText.ts';
import { messageText } from '../../../src/ui/text/messageText.ts';
import { UNCERTAIN_INPUT_TEXT } from '../../../src/ui/text/uncertainInputText.ts';

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
  'fileBroken',
  'roundContinued',
];
const advice = [
  ...Object.values(HEAR_REASON_TEXT),
  ...Object.values(MEASURE_REASON_TEXT),
  ...MESSAGES.flatMap((code) => [messageText(code), messageText(code, '7')]),
];
const sentences = [
  ...advice.flatMap(({ sentence, next }) => [sentence, next]),
  ...Object.values(HEARD_FLAG_TEXT),
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
  it('names the detail where there is one', () => {
    expect(messageText('soundProcessed', 'gain control').sentence).toContain('gain control');
    expect(messageText('fileNewer', '3').sentence).toContain('3');
  });
});
