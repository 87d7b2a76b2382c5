/** Sounds made on the spot, without files. A browser allows them only after a click or key in the page. */
export interface Sounds {
  /** Call from a click or key. */
  unlock(): void;
  /** Whether a sound would be heard. */
  allowed(): boolean;
  /** A step is over. */
  chime(): void;
  /** Something wants a look. */
  knock(): void;
  /** Loud, two tones, until it is switched off. */
  alarm(on: boolean): void;
}

export function createSounds(makeContext: () => AudioContext | null): Sounds {
  let context: AudioContext | null = null;
  let ringing: { stop(): void } | null = null;
  let wanted = false;

  const tone = (frequencyHz: number, fromS: number, lengthS: number, loudness: number): void => {
    if (context?.state !== 'running') return;
    const at = context.currentTime + fromS;
    const voice = context.createOscillator();
    const gain = context.createGain();
    voice.frequency.value = frequencyHz;
    gain.gain.setValueAtTime(0, at);
    gain.gain.linearRampToValueAtTime(loudness, at + 0.02);
    gain.gain.exponentialRampToValueAtTime(0.001, at + lengthS);
    voice.connect(gain).connect(context.destination);
    voice.start(at);
    voice.stop(at + lengthS);
  };

  /** All on the audio thread, so that a busy or hidden page goes on ringing. */
  const ring = (): void => {
    if (context?.state !== 'running' || ringing) return;
    const voice = context.createOscillator();
    voice.type = 'square';
    voice.frequency.value = 820;
    const swing = context.createOscillator();
    swing.type = 'square';
    swing.frequency.value = 1.6;
    const reach = context.createGain();
    reach.gain.value = 180;
    const gain = context.createGain();
    gain.gain.value = 0.5;
    swing.connect(reach).connect(voice.frequency);
    voice.connect(gain).connect(context.destination);
    voice.start();
    swing.start();
    ringing = {
      stop() {
        voice.stop();
        swing.stop();
        gain.disconnect();
      },
    };
  };

  return {
    unlock() {
      context ??= makeContext();
      void context?.resume().then(() => {
        if (wanted) ring();
      });
    },
    allowed: () => context?.state === 'running',
    chime() {
      [660, 880, 1100].forEach((frequencyHz, i) => tone(frequencyHz, 0.22 * i, 0.5, 0.5));
    },
    knock() {
      tone(440, 0, 0.25, 0.4);
      tone(440, 0.3, 0.25, 0.4);
    },
    alarm(on) {
      wanted = on;
      if (on) ring();
      else {
        ringing?.stop();
        ringing = null;
      }
    },
  };
}
