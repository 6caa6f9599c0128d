import type { EntryKind } from '../../rules/log/entry.js';
import { makeUlid } from '../../rules/log/ulid.js';
import type { FrozenReview } from '../../rules/wire/review.js';
import { type DieOffGateway, declaredSpan } from './die-off-gateway.js';
import { COOL, WARM } from './die-off-plant.js';
import type { DieOff } from './die-off-water.js';

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const GROUP = { speciesGroup: 'warm-temperate-burrowing-clam', stage: 'post-set' } as const;
export const DEAD_IN: readonly string[] = ['n1', 'n2', 'n3', 'n4'];
const FULL = 40_000;

type Pen = (kind: EntryKind, placeId: string | undefined, atMs: number, fields: object) => Promise<string>;

/** Entries over the API as a phone sends them; each answers with its id. */
const penFor = ({ ask }: DieOffGateway): Pen => {
  let written = 0;
  return async (kind, placeId, atMs, fields) => {
    written += 1;
    const chance = new Uint8Array(10);
    new DataView(chance.buffer).setUint32(6, written);
    const id = makeUlid(atMs, chance);
    await ask('POST', '/log', {
      id,
      kind,
      atMs,
      fields,
      initials: 'AL',
      ...(placeId === undefined ? {} : { placeId }),
    });
    return id;
  };
};

/** What the people of the invented hatchery wrote before, on the day, and when they found it; then they freeze the record. */
export const writeAndFreeze = async (gateway: DieOffGateway, dieOff: DieOff): Promise<FrozenReview> => {
  const write = penFor(gateway);
  const { startMs, deadMs } = dieOff;
  for (const [ids, batchId] of [
    [WARM.tanks, 'B7'],
    [COOL.tanks, 'B8'],
  ] as const) {
    for (const id of ids)
      await write('brought-in', id, startMs, {
        ...GROUP,
        batchId: `${batchId}-${id}`,
        count: { animals: FULL },
        origin: 'Own setting room',
      });
  }
  for (const id of DEAD_IN) await write('count', id, deadMs - 16 * HOUR_MS, { count: { animals: FULL } });
  const declared = declaredSpan(dieOff);
  const workId = await write('work', 'n2', declared.fromMs, { work: 'drain-down', minutes: 90 });
  await write('work-end', 'n2', declared.toMs, { workId });
  const found: string[] = [];
  for (const [n, id] of DEAD_IN.entries())
    found.push(await write('deaths', id, deadMs + n * MINUTE_MS, { animals: FULL * 0.8, signs: 'gaping, mucus' }));
  const body = { start: 'deaths', entryId: found[0], tanks: DEAD_IN, remark: 'found on the morning round' };
  return JSON.parse(await gateway.ask('POST', '/reviews', body)) as FrozenReview;
};
