import { buildAlerts } from '../../../gateway/alerts/desk.js';
import { openJournal } from '../../../gateway/journal/open.js';
import { landingOf } from '../../../gateway/landing-of.js';
import type { Alarm } from '../../../rules/alarm/alarm.js';
import { emptyState } from '../../../rules/engine/state.js';
import { hatchery, tank } from '../../support/hatchery.js';
import { NIGHT_MS } from '../../support/ladder-night.js';
import { ALWAYS, PEOPLE, settle } from '../../support/people.js';

/**
 * A process that decides to wake somebody and is killed: with `before` when the decision has been committed and nothing
 * sent, with `during` while the message is on its way. It says `decided` or `sending`, and then waits to be killed.
 */
const [folder = '', when = ''] = process.argv.slice(2);
const opened = openJournal(folder, { durability: 'second' });
if (!opened.ok) throw new Error(JSON.stringify(opened.fault));
const journal = opened.value;
settle(journal, PEOPLE, ALWAYS, NIGHT_MS);
const alarm: Alarm = {
  id: 'a1',
  subject: 'l2.temperature',
  finding: {
    condition: 'heater-stuck-on',
    placeId: 'l2',
    channelId: 'l2.temperature',
    priority: 'high',
    sinceMs: NIGHT_MS,
  },
  life: { core: 'unack', inhibits: [] },
  activatedMs: NIGHT_MS,
  changedMs: NIGHT_MS,
};
const site = hatchery([tank('l1'), tank('l2', { order: 1 })]);
const state = {
  ...emptyState(site, NIGHT_MS),
  hatchery: site,
  judgements: [{ raw: true, rawMs: 0, on: true, lagMs: 0, alarm }],
};
const alerts = buildAlerts({
  journal,
  clock: { now: () => NIGHT_MS },
  random: () => 0.5,
  state: () => state,
  acknowledge: () => undefined,
  senders: {
    push: () => {
      process.stdout.write('sending\n');
      return new Promise(() => undefined);
    },
  },
});
// Before its start nothing leaves: so the process dies with the decision committed and nothing sent.
if (when === 'during') alerts.start();
const effect = {
  do: 'alarm',
  atMs: NIGHT_MS,
  event: 'cond-on',
  alarm,
  deeds: ['annunciate', 'start-escalation'],
} as const;
journal.together(() => {
  journal.land(landingOf([effect]));
  alerts.land([effect], state);
});
if (when === 'before') process.stdout.write('decided\n');
else alerts.landed();
setInterval(() => undefined, 60_000);
