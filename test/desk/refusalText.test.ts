import { describe, expect, test } from 'vitest';
import { calibrationText } from '../../src/desk/calibrationText.ts';
import { measure } from '../../src/desk/measure.ts';
import { type DeskReason, refusalText } from '../../src/desk/refusalText.ts';
import { encodeWav } from '../signals/wav.ts';
import { plainWheel } from '../spokes/plainWheel.ts';

const FILES: readonly DeskReason[] = [
  'unreadable',
  'notWav',
  'noFormat',
  'noSamples',
  'encodingUnknown',
  'rateUnsupported',
  'channelsUnsupported',
  'tooFewPlucks',
  'pausesNotClear',
  'placesSlipped',
  'groupsDoNotFit',
  'fewRang',
  'notHeard',
  'notSettled',
  'tonesContradictMember',
];

describe('a refusal at the desk', () => {
  test.each(FILES)('%s is a sentence with what to do, the value where there is one', (reason) => {
    const text = refusalText(reason, '7 of 9');
    expect(text).toMatch(/^\p{Lu}.* \(7 of 9\)\. \p{Lu}.*\.$/u);
    expect(text).not.toMatch(/undefined|!/);
    expect(refusalText(reason)).not.toMatch(/7 of 9|\(\)/);
  });

  test.each(['noPluck', 'spokeNotHeard', 'noSuchSpoke', 'measuredImpossible', 'belowBendingTone'] as const)(
    'of a known tension, %s, is a sentence too',
    (reason) => {
      expect(calibrationText(reason, '7 mm')).toMatch(/^\p{Lu}.* \(7 mm\)\. \p{Lu}.*\.$/u);
      expect(calibrationText(reason)).not.toMatch(/undefined|\(\)/);
    },
  );

  test('stands in the printed object beside its code, for files and for spokes', () => {
    const wav = encodeWav([new Float32Array(44100)], 44100, 'int16');
    // A coded sound: A-law is 6. @source RFC 2361, WAVE_FORMAT_ALAW
    const coded = wav.slice();
    new DataView(coded.buffer).setUint16(20, 6, true);
    const { recordings, spokes } = measure(
      plainWheel(),
      [
        { name: 'a.wav', bytes: coded },
        { name: 'b.wav', bytes: wav },
      ],
      { crediting: { by: 'round' } },
    );
    expect(recordings.map(({ reason }) => reason)).toEqual(['encodingUnknown', 'tooFewPlucks']);
    expect(recordings[0]?.advice).toMatch(/coded in a way .* Convert it to plain WAV/);
    expect(recordings[1]?.advice).toMatch(/0 plucks for 32 spokes\)\. If only some spokes/);
    expect(spokes[0]).toMatchObject({
      spoke: 1,
      ok: false,
      reason: 'notHeard',
      advice: expect.stringMatching(/Pluck it/),
    });
  });
});
