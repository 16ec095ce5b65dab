import { useStore } from '../../store/useStore.ts';

const WORDS = { silent: 'silent', quiet: 'quiet', good: 'good level', tooLoud: 'too loud' } as const;

/** How loud it is, in words; what the microphone is doing; whether the screen stays on. */
export function LevelSign() {
  const listening = useStore((state) => state.listening);
  const ear =
    listening.status === 'on'
      ? `listening, ${WORDS[listening.level]}`
      : listening.status === 'opening'
        ? 'opening the microphone …'
        : listening.status === 'interrupted'
          ? 'interrupted, nothing is heard'
          : 'not listening';
  return (
    <p class="signs">
      <span>
        <span aria-hidden="true">{listening.status === 'on' ? '◉' : '○'}</span> {ear}
      </span>
      {listening.wakeLock === 'held' && (
        <span>
          <span aria-hidden="true">☀</span> screen on
        </span>
      )}
      {listening.wakeLock === 'unavailable' && listening.status === 'on' && (
        <span>
          <span aria-hidden="true">☾</span> screen may go dark
        </span>
      )}
    </p>
  );
}
