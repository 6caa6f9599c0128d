import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Durability, Journal } from '../../../gateway/journal/journal.js';
import type { KeptReading, Landing } from '../../../gateway/journal/landing.js';
import { openJournal } from '../../../gateway/journal/open.js';
import type { AlarmPicture } from '../../../rules/alarm/alarm.js';
import { FLAG } from '../../../rules/quality/flag.js';
import { flagsFromVerdict } from '../../../rules/quality/packed.js';
import { makeVerdict } from '../../../rules/quality/verdict.js';

/** 1 June 2026, 00:00 UTC: a whole hour. */
export const START_MS = Date.UTC(2026, 5, 1);
export const HOUR_MS = 3_600_000;

export const GOOD = flagsFromVerdict(makeVerdict({ syntax: FLAG.pass, 'gross-range': FLAG.pass }));
export const SPIKE = flagsFromVerdict(makeVerdict({ syntax: FLAG.pass, spike: FLAG.fail }));
export const DRY = flagsFromVerdict(makeVerdict({ syntax: FLAG.pass, multivariate: FLAG.suspect }));
export const STUCK = flagsFromVerdict(makeVerdict({ syntax: FLAG.pass, 'flat-line': FLAG.fail }, 'stuck'));
export const FAULT_VALUE = flagsFromVerdict(makeVerdict({ syntax: FLAG.fail }, 'fault-value'));

/** A folder of its own that goes when the test ends. */
export const emptyFolder = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
};

export const openedIn = (folder: string, durability: Durability = 'second'): Journal => {
  const opened = openJournal(folder, { durability });
  if (!opened.ok) throw new Error(`The journal did not open: ${JSON.stringify(opened.fault)}`);
  return opened.value;
};

export const openedJournal = (): Journal => {
  const journal = openedIn(emptyFolder());
  onTestFinished(() => journal.close());
  return journal;
};

export const landing = (part: Partial<Landing>): Landing => ({
  readings: [],
  revisions: [],
  alarms: [],
  malformed: [],
  boards: [],
  packets: [],
  ...part,
});

export const reading = (part: Partial<KeptReading> & { readonly deviceMs: number }): KeptReading => ({
  sourceId: 1,
  arrivalMs: part.deviceMs + 20,
  raw: 18.5,
  flags: GOOD,
  ...part,
});

export const alarm = (id: string, part: Partial<AlarmPicture> = {}): AlarmPicture => ({
  id,
  subject: 'l2.temperature',
  finding: {
    condition: 'above-limit',
    placeId: 'l2',
    channelId: 'l2.temperature',
    priority: 'high',
    sinceMs: START_MS,
  },
  priority: 'high',
  state: 'unack',
  activatedMs: START_MS,
  changedMs: START_MS,
  ...part,
});
