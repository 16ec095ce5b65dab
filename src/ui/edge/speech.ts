/** Speaks sentences, so that one need not look. Off by default; a device without a voice stays silent. */
export interface Speech {
  /** @returns how long it will take at most, in seconds; the ear is deaf meanwhile */
  speak(sentence: string): number;
  stop(): void;
}

/** 150 words a minute is slow speech, and an English word has about six letters with its space. `common practice` */
const LETTERS_PER_SECOND = 15;
const RATE = 1.15;

export function createSpeech(): Speech {
  const voice = 'speechSynthesis' in globalThis ? globalThis.speechSynthesis : undefined;
  return {
    speak: (sentence) => {
      if (!voice) return 0;
      voice.cancel();
      const words = new SpeechSynthesisUtterance(sentence);
      words.lang = 'en';
      words.rate = RATE;
      voice.speak(words);
      return 0.3 + sentence.length / (LETTERS_PER_SECOND * RATE);
    },
    stop: () => voice?.cancel(),
  };
}
