import type { Event } from '../event.js';
import type { Hatchery } from '../hatchery.js';
import { normalAt, seedFrom } from '../random.js';
import { routineOf } from '../routine.js';
import type { Tank } from '../tank.js';
import { counted, lengthUm, screenUm } from './demo-batches.js';
import { isMovingDay, type Occupant, occupant } from './demo-lives.js';
import type { DemoPen } from './demo-pen.js';

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
const STEP_MS = 5 * MINUTE_MS;

type Done = { readonly event: Event; readonly tank: Tank; readonly day: number };

/** Every piece of ordinary work of the past days, once, on tanks that the animals' moves leave alone. */
export const ordinaryWork = (hatchery: Hatchery, days: number, nowMs: number): readonly Done[] => {
  const routine = routineOf(hatchery);
  const found = new Map<string, Done>();
  const midnightMs = Math.floor(nowMs / DAY_MS) * DAY_MS;
  for (let atMs = nowMs - days * DAY_MS; atMs < nowMs; atMs += STEP_MS) {
    for (const event of routine(atMs)) {
      const id = 'tank' in event ? event.tank : 'place' in event ? event.place : '';
      const tank = hatchery.tanks.find((one) => one.id === id);
      const day = Math.ceil((midnightMs - event.fromMs) / DAY_MS);
      if (tank !== undefined && !isLeftAlone(id.toLowerCase(), day, event)) {
        found.set(`${event.kind} ${id} ${event.fromMs}`, { event, tank, day });
      }
    }
  }
  return [...found.values()];
};

/** Nobody drains a tank of embryos, or one whose animals come or go that day. */
const isLeftAlone = (tank: string, day: number, { kind }: Event): boolean =>
  kind === 'drain-down' && (isMovingDay(tank, day) || occupant(tank, day)?.stop.stage === 'embryo');

/** What the people write about a piece of work. */
export const writtenOf = (pen: DemoPen, { event, tank, day }: Done): void => {
  const id = tank.id.toLowerCase();
  const inside = occupant(id, day);
  pen.together(() => {
    pen.happens(event);
    if (event.kind === 'drain-down') {
      const startedMs = event.fromMs;
      const work = pen.write('work', startedMs - 4 * MINUTE_MS, id, { work: 'drain-down', minutes: 90 });
      if (inside === undefined || tank.regime !== 'static') {
        const what = tank.bed.kind === 'none' ? 'tank' : 'bed';
        pen.write('cleaning', event.toMs + 4 * MINUTE_MS, id, { what, with: 'hose and brush' });
        pen.write('work-end', event.toMs + 26 * MINUTE_MS, id, { workId: work });
        return;
      }
      sheet(pen, id, day, event);
    }
    if (event.kind === 'flow-off') {
      const work = pen.write('work', event.fromMs, id, { work: 'feeding-flow-off', minutes: 70 });
      pen.write('feeding', event.fromMs + 2 * MINUTE_MS, id, { alga: 'flagellate', volumeL: 6.5 });
      pen.write('work-end', event.toMs, id, { workId: work });
    }
    if (event.kind === 'feeding' && isFedOnce(tank, event) && inside !== undefined && inside.stop.stage !== 'embryo') {
      const targetCellsMl = inside.stop.stage === 'larva' ? 20_000 + 2_500 * Math.min(12, inside.ageDays) : 60_000;
      const volumeL = Math.round((tank.volumeL * targetCellsMl) / 250_000) / 10;
      pen.write('feeding', event.fromMs + 3 * MINUTE_MS, id, { alga: 'flagellate and diatom', volumeL, targetCellsMl });
    }
    if (event.kind === 'probe-lifted') service(pen, id, event);
  });
};

/** The evening meal stands for both; the adults' is written with their flow. */
const isFedOnce = (tank: Tank, { fromMs }: Event): boolean =>
  fromMs % DAY_MS > 15 * 60 * MINUTE_MS && tank.stage !== 'conditioning' && tank.stage !== 'ripe';

const sheet = (pen: DemoPen, id: string, day: number, { fromMs, toMs }: Event): void => {
  const inside = occupant(id, day);
  if (inside === undefined) return;
  const { animals, ageDays, stop, life } = inside;
  const length = lengthUm(ageDays);
  const larval = {
    screensUm: [screenUm(ageDays)],
    lengthsUm: [0, 1, 2, 3, 4].map((n) => Math.round(length + 5 * normalAt(seedFrom(n, life.batch), day))),
    swimming: life.lostDay === day + 1 ? ('half' as const) : ('most' as const),
    gut: life.lostDay === day + 1 ? ('pale' as const) : ('full' as const),
  };
  pen.write('drain-down', toMs + 24 * MINUTE_MS, id, {
    startedMs: Math.round(fromMs),
    ...(stop.stage === 'larva' ? larval : {}),
    dead: Math.round(lostSince(id, day, inside)),
    count: counted(animals, stop.stage, `${life.batch} ${day}`),
    end: 'back-in',
  });
};

/** Since the sheet of two days ago, or since they came. */
const lostSince = (id: string, day: number, { life, animals }: Occupant): number => {
  const before = [day + 2, day + 1].map((earlier) => occupant(id, earlier)).find((one) => one?.life === life);
  return Math.max(0, (before?.animals ?? animals) - animals);
};

const service = (pen: DemoPen, id: string, { fromMs, toMs }: Event): void => {
  const work = pen.write('work', fromMs, id, { work: 'probe-service', minutes: 25 });
  const read = { quantity: 'oxygen-saturation', against: 'air, wet bulb', before: 97, after: 100 } as const;
  pen.write('calibration', toMs - MINUTE_MS, id, read);
  pen.write('work-end', toMs, id, { workId: work });
};

/** Rounds, cultures, filters and lamps of one day. */
export const dayKept = (pen: DemoPen, day: number): void => {
  const { at, write, together } = pen;
  const seen = day === 6 ? [{ placeId: 'l2', words: 'larvae on the bottom' }] : [];
  together(() => write('round', at(day, '07:30'), undefined, { which: 'morning', except: seen }));
  together(() => write('round', at(day, '20:10'), undefined, { which: 'evening', except: [] }));
  for (const [n, culture] of ['flagellate 1', 'flagellate 2', 'diatom 3'].entries()) {
    if ((day + n) % 2 === 0) continue;
    const grown = 2.4 + 0.6 * normalAt(seedFrom(n, culture), day) * 0.4;
    const cellsMl = Math.round(grown * 100) * 10_000;
    together(() =>
      write('culture', at(day, `08:${10 + n}`), undefined, { culture, event: 'harvested', cellsMl, volumeL: 40 }),
    );
  }
  if (day % 3 === 0)
    together(() => write('filter', at(day, '11:15'), undefined, { what: 'larval line bags', micron: 1 }));
  if (day % 7 === 0)
    together(() => write('uv-hours', at(day, '11:20'), undefined, { lamp: 'larval line', hours: 3_400 - 24 * day }));
  if (day % 2 === 1)
    together(() => {
      const value = 23.4 + Math.round(normalAt(seedFrom(5, 'hand'), day) * 2) / 20;
      write('hand-measurement', at(day, '07:50'), 'l3', {
        quantity: 'temperature',
        value,
        instrument: 'glass thermometer',
      });
    });
  for (const [n, id] of ['s1', 's2', 's3'].entries()) {
    if ((day + n) % 2 === 0 || isMovingDay(id, day) || occupant(id, day) === undefined) continue;
    together(() => write('water-change', at(day, `14:${10 + 8 * n}`), id, { sharePct: 50 }));
  }
};
