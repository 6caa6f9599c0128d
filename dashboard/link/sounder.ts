/** Why it sounds: the two are told apart by ear. */
export type SoundWhy = 'alarm' | 'lost';

export type Sounder = {
  readonly sound: (why: SoundWhy | undefined) => void;
  readonly close: () => void;
};

/** Hertz and seconds: an alarm rises in threes; a lost gateway is two low tones. */
const TUNES: { readonly [why in SoundWhy]: readonly (readonly [hertz: number, at: number, length: number])[] } = {
  alarm: [
    [660, 0, 0.25],
    [880, 0.3, 0.25],
    [1175, 0.6, 0.5],
  ],
  lost: [
    [330, 0, 0.6],
    [262, 0.8, 0.8],
  ],
};
const EACH_MS = 3_000;
const LOUD = 0.8;

/** Made by a touch, because a browser lets no page sound by itself. */
export const openSounder = (): Sounder => {
  const audio = new AudioContext();
  let timer: ReturnType<typeof setInterval> | undefined;
  const play = (why: SoundWhy): void => {
    void audio.resume();
    for (const [hertz, at, length] of TUNES[why]) {
      const tone = audio.createOscillator();
      const gain = audio.createGain();
      tone.frequency.value = hertz;
      gain.gain.value = LOUD;
      tone.connect(gain).connect(audio.destination);
      tone.start(audio.currentTime + at);
      tone.stop(audio.currentTime + at + length);
    }
  };
  const stop = (): void => {
    if (timer !== undefined) clearInterval(timer);
    timer = undefined;
  };
  return {
    sound: (why) => {
      stop();
      if (why === undefined) return;
      play(why);
      timer = setInterval(() => play(why), EACH_MS);
    },
    close: () => {
      stop();
      void audio.close();
    },
  };
};
