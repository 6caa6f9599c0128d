export type Stop = () => void;

/** Time as an argument: the system's here, a hand-turned twin in tests. */
export type Clock = {
  now(): number;
  every(ms: number, run: () => void): Stop;
};

export const systemClock: Clock = {
  now: () => Date.now(),
  every: (ms, run) => {
    const timer = setInterval(run, ms);
    return () => clearInterval(timer);
  },
};

/** The zone that this machine is set to: what a site's zone is until somebody says otherwise. */
export const systemZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;
