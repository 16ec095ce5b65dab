import { createEar } from '../createEar.ts';
import { Hearing } from './hearing.ts';
import type { HearAnswer, HearRequest } from './hearProtocol.ts';
import type { BufferReturn, SoundMessage } from './soundBatch.ts';

// The DOM library describes a page's global; this is a worker's.
const scope = self as unknown as {
  onmessage: ((event: MessageEvent<HearRequest>) => void) | null;
  postMessage(answer: HearAnswer, transfer: readonly Transferable[]): void;
};

let hearing: Hearing | undefined;
let sound: MessagePort | undefined;

const answer = (message: HearAnswer) => {
  const heard = message.kind === 'ear' && message.event.kind === 'heard' ? [message.event.excerpt.buffer] : [];
  scope.postMessage(message, heard);
};

const takeSound = (port: MessagePort, listening: Hearing) => (event: MessageEvent<SoundMessage>) => {
  const message = event.data;
  if (message.kind === 'end') return listening.end();
  listening.take(message, performance.now());
  const back: BufferReturn = { kind: 'return', buffer: message.buffer };
  port.postMessage(back, [message.buffer]);
};

scope.onmessage = (event) => {
  const request = event.data;
  switch (request.kind) {
    case 'open':
      sound?.close();
      hearing = new Hearing(
        createEar,
        request.options,
        request.byTheClock,
        (ear) => answer({ kind: 'ear', event: ear }),
        (news) => answer({ kind: 'capture', news }),
      );
      sound = request.sound;
      sound.onmessage = takeSound(sound, hearing);
      return;
    case 'expect':
      return hearing?.expect(request.expected);
    case 'holdOff':
      return hearing?.holdOff(request.durationS);
    case 'close':
      sound?.close();
      sound = undefined;
      hearing = undefined;
      return;
  }
};
