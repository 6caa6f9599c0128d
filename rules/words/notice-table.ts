import type { WatchLoss } from '../alerts/heartbeat.js';
import type { CallKind } from '../alerts/ladder.js';
import type { ByLanguage } from './language.js';

type Table = {
  readonly kinds: { readonly [kind in CallKind]: string };
  readonly left: string;
  readonly holds: string;
  readonly batch: string;
  readonly reading: string;
  readonly readingOld: string;
  readonly one: string;
  readonly many: string;
  readonly others: string;
  readonly told: string;
  readonly alone: string;
  readonly going: string;
  readonly there: string;
  readonly passing: string;
  readonly acknowledged: string;
  readonly chattering: string;
  readonly latched: string;
  readonly basis: string;
  readonly flood: string;
  readonly floodText: string;
  readonly drill: string;
  readonly drillAsk: string;
  readonly watchEmpty: string;
  readonly lost: string;
  readonly losses: { readonly [loss in WatchLoss]: string };
  readonly lostDo: string;
  readonly checkInDo: string;
  readonly back: string;
  readonly priority: { readonly high: string; readonly medium: string; readonly low: string };
};

/** What messages say, `{name}` standing for a parameter. */
export const NOTICE_WORDS: ByLanguage<Table> = {
  en: {
    kinds: {
      call: '{place}: {what}',
      again: '{place}, still nobody there: {what}',
      worse: '{place}, getting worse: {what}',
      offered: '{by} asks you to take {place}: {what}',
      taken: '{by} is going to {place}',
      cleared: '{place} is well again',
      'check-in': 'Are you well, and still at {place}?',
      alone: '{by} does not answer from {place}',
      nobody: 'Nobody is on call. {place}: {what}',
    },
    left: '{headline}, {left} left',
    holds: '{stage} in {place}',
    batch: 'batch {batch}',
    reading: 'reading {age} old',
    readingOld: 'last reading {age} ago, at {moment}',
    one: 'only this tank',
    many: '{count} tanks: {names}',
    others: 'also in alarm: {names}',
    told: 'told: {names}',
    alone: 'nobody else was told',
    going: '{name} (going, back word by {clock})',
    there: '{name} (there)',
    passing: '{name} (passed it on)',
    acknowledged: '{name} (has seen it)',
    latched: 'the water is back inside, but was beyond what is never to be passed: look at the animals',
    chattering: 'the signal comes and goes: look at probe and cable, too',
    basis: 'rests on {facts}',
    flood: '{count} faults at once',
    floodText: '{count} faults at once. Worst: {worst}',
    drill: 'Drill: this is how a night call comes',
    drillAsk: 'Did it ring through silent? Answer in Nightwater',
    watchEmpty: 'Nobody is on call from {from} to {until}',
    lost: 'Nobody watches {site}',
    losses: {
      'broker-lost': 'its broker cannot be reached since {moment}',
      'said-offline': 'Nightwater there stopped at {moment}',
      'no-heartbeat': 'no sign of life since {moment}',
      'judges-nothing': 'it runs, but has judged no reading since {moment}',
    },
    lostDo: 'Until it runs again a person has to look at the tanks',
    checkInDo: 'Look at the internet line first; then at the address under Watch, Ways out',
    back: '{site} is watched again, after {length}',
    priority: { high: 'HIGH', medium: 'MEDIUM', low: 'LOW' },
  },
};
