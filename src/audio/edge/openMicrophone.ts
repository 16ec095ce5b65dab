import type { CaptureSettings } from '../../contract.ts';
import { hertz } from '../../units.ts';
import workletUrl from './capture.worklet.ts?worker&url';
import type { CaptureFault, CaptureNews } from './captureNews.ts';
import { bluetoothLabel, readCaptureSettings, stagesStillOn } from './captureSettings.ts';
import type { SoundSource, SourceFailure } from './soundSource.ts';

/** Below this a device sends telephone sound: the upper tones of a spoke are missing. */
export const LEAST_RATE_HZ = 32_000;
/** `resume()` may never settle without a gesture (quirk 2). */
const START_TIMEOUT_MS = 4000;

/** Plain booleans, not `exact`: a browser without the constraint must not refuse (quirk 1). */
const CONSTRAINTS: MediaStreamConstraints = {
  audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false },
};

/**
 * Opens the microphone with all of the system's sound processing off. Call inside the tap. The context is created and resumed
 * before the first wait, for browsers allow sound only then; what the device says of itself is read back, not believed.
 *
 * @param tell hears of everything that happens to the microphone later: taken away, muted, interrupted
 */
export async function openMicrophone(tell: (news: CaptureNews) => void): Promise<SoundSource | SourceFailure> {
  if (!globalThis.isSecureContext || !navigator.mediaDevices?.getUserMedia || typeof AudioWorkletNode === 'undefined')
    return { ok: false, problem: 'microphoneUnsupported' };
  declarePlayAndRecord();
  const context = new AudioContext({ latencyHint: 'interactive' });
  const running = waitUntilRunning(context);
  let stream: MediaStream;
  try {
    stream = await navigator.mediaDevices.getUserMedia(CONSTRAINTS);
  } catch (error) {
    await context.close();
    return { ok: false, problem: faultOf(error) };
  }
  const letGo = async (failure: SourceFailure): Promise<SourceFailure> => {
    for (const track of stream.getTracks()) track.stop();
    await context.close();
    return failure;
  };
  const [track] = stream.getAudioTracks();
  if (!track) return letGo({ ok: false, problem: 'microphoneAbsent' });
  if (!(await running)) return letGo({ ok: false, problem: 'soundDidNotStart' });
  const settings = readCaptureSettings(track.getSettings(), track.label, context.sampleRate);
  if (bluetoothLabel(track.label)) return letGo({ ok: false, problem: 'microphoneBluetooth', detail: track.label });
  const slowest = Math.min(context.sampleRate, track.getSettings().sampleRate ?? context.sampleRate);
  if (slowest < LEAST_RATE_HZ) return letGo({ ok: false, problem: 'rateTooLow', detail: `${slowest}` });
  try {
    await context.audioWorklet.addModule(workletUrl);
  } catch {
    return letGo({ ok: false, problem: 'soundDidNotStart' });
  }
  const stages = stagesStillOn(track.getSettings());
  if (stages.length > 0) tell({ kind: 'problem', problem: 'soundProcessed', detail: stages.join(', ') });
  return openSource(context, stream, track, settings, tell);
}

function openSource(
  context: AudioContext,
  stream: MediaStream,
  track: MediaStreamTrack,
  settings: CaptureSettings,
  tell: (news: CaptureNews) => void,
): SoundSource {
  // Kept: a collected source node delivers zeros (quirk 5).
  const source = context.createMediaStreamSource(stream);
  const capture = new AudioWorkletNode(context, 'ringtrue-capture', { numberOfInputs: 1, numberOfOutputs: 0 });
  const off = new AbortController();
  const on = { signal: off.signal };
  const say = (problem: CaptureFault) => () => tell({ kind: 'problem', problem });
  const mend = (problem: CaptureFault) => () => tell({ kind: 'mended', problem });
  track.addEventListener('ended', say('microphoneEnded'), on);
  track.addEventListener('mute', say('microphoneMuted'), on);
  track.addEventListener('unmute', mend('microphoneMuted'), on);
  if (track.muted) tell({ kind: 'problem', problem: 'microphoneMuted' });
  // Only `suspended` may be resumed; while `interrupted` a resume is refused (quirk 6).
  const onState = () => {
    if (context.state === 'running') return mend('soundInterrupted')();
    if (context.state === 'closed') return;
    say('soundInterrupted')();
    if (context.state === 'suspended' && document.visibilityState === 'visible') void context.resume().catch(() => {});
  };
  context.addEventListener('statechange', onState, on);
  document.addEventListener('visibilitychange', () => void checkAfterReturn(context, track, tell), on);
  return {
    kind: 'microphone',
    sampleRateHz: hertz(context.sampleRate),
    settings,
    start: (sound) => {
      capture.port.postMessage({ sound }, [sound]);
      source.connect(capture);
    },
    stop: () => {
      off.abort();
      capture.port.postMessage({ stop: true });
      source.disconnect();
      track.stop();
      void context.close().catch(() => {});
    },
  };
}

/** Coming back from another app: a context may say `running` with its time frozen (quirk 6). Then it must be built anew. */
async function checkAfterReturn(
  context: AudioContext,
  track: MediaStreamTrack,
  tell: (news: CaptureNews) => void,
): Promise<void> {
  if (document.visibilityState !== 'visible' || context.state === 'closed') return;
  if (context.state === 'suspended') await Promise.race([context.resume().catch(() => {}), wait(500)]);
  const before = context.currentTime;
  await wait(300);
  if ((context.state as string) === 'closed') return;
  const frozen = context.currentTime === before;
  if (frozen || track.readyState === 'ended') tell({ kind: 'rebuild' });
  else tell({ kind: 'mended', problem: 'soundInterrupted' });
}

const wait = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

async function waitUntilRunning(context: AudioContext): Promise<boolean> {
  const resumed = context.resume().then(
    () => true,
    () => false,
  );
  const late = wait(START_TIMEOUT_MS).then(() => context.state === 'running');
  return Promise.race([resumed, late]);
}

/** Safari only: otherwise playing a sound can end the capture (quirk 7). */
function declarePlayAndRecord(): void {
  const session = (navigator as { audioSession?: { type: string } }).audioSession;
  if (session) session.type = 'play-and-record';
}

function faultOf(error: unknown): CaptureFault {
  const name = error instanceof DOMException || error instanceof Error ? error.name : '';
  if (name === 'NotAllowedError' || name === 'SecurityError') return 'microphoneRefused';
  if (name === 'NotFoundError' || name === 'OverconstrainedError') return 'microphoneAbsent';
  if (name === 'NotReadableError' || name === 'AbortError') return 'microphoneBusy';
  return 'microphoneUnsupported';
}
