import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { readRecord } from '../../../gateway/log-desk.js';
import type { Entry } from '../../../rules/log/entry.js';
import type { Versioned } from '../../../rules/wire/api.js';
import type {
  BatchPicture,
  Button,
  LogLine,
  PapersPicture,
  RoundPicture,
  StockPicture,
} from '../../../rules/wire/log.js';
import type { ChannelPicture } from '../../../rules/wire/picture.js';
import type { DeclaredWork } from '../../../rules/work.js';
import { begun, diary } from '../../rules/log/diary.js';
import { gatewayRoom, type Room } from '../../support/gateway-room.js';
import { NOON_MS } from '../../support/hatchery.js';

const sent = ({ by: _, ...entry }: Entry): object => entry;
const post = (room: Room, entry: Entry, who: 'crew' | 'manager' = 'crew') =>
  room.ask(who, { method: 'POST', url: '/api/v1/log', payload: sent(entry) });
const lines = async (room: Room, query = ''): Promise<readonly LogLine[]> =>
  (await room.ask('viewer', { url: `/api/v1/log${query}` })).json<readonly LogLine[]>();

const twoTanks = async (): Promise<Room> => {
  const room = await gatewayRoom();
  room.desk.putPlace(
    { id: 'l4', kind: 'tank', name: 'L4', order: 1, stage: 'empty' },
    { by: 'test', expectedVersion: 0 },
  );
  return room;
};

describe('the log over HTTP', () => {
  test('keeps an entry once, however often it is sent, with both its times', async () => {
    const room = await twoTanks();
    const { write } = diary(NOON_MS - 3_600_000);
    const note = write('note', 'l2', { words: 'foam on the water' });
    expect((await post(room, note)).statusCode).toBe(201);
    expect((await post(room, note)).statusCode).toBe(200);
    expect(await lines(room)).toMatchObject([
      { entry: { id: note.id, by: 'a crew', atMs: note.atMs }, recordedMs: NOON_MS },
    ]);
  });

  test('refuses another entry under the same id', async () => {
    const room = await twoTanks();
    const note = diary().write('note', 'l2', { words: 'foam' });
    await post(room, note);
    const answer = await post(room, { ...note, fields: { words: 'no foam' } } as Entry);
    expect(answer.statusCode).toBe(409);
    expect(answer.json()).toMatchObject({ fault: 'entry-id-taken' });
  });

  test('keeps what a phone sends late at the time when it happened', async () => {
    const room = await twoTanks();
    const { write } = diary(NOON_MS - 7_200_000);
    const early = write('note', 'l2', { words: 'one' });
    const later = write('note', 'l2', { words: 'two' });
    await post(room, later);
    room.clock.isSet(NOON_MS + 60_000);
    await post(room, early);
    expect((await lines(room)).map(({ entry }) => entry.id)).toEqual([early.id, later.id]);
  });

  test('says every fault of a form with its place, and keeps nothing', async () => {
    const room = await twoTanks();
    const wrong = diary().write('sale', 'l2', { animals: -3, to: '' } as never);
    const answer = await post(room, wrong);
    expect(answer.statusCode).toBe(422);
    expect(answer.json()).toMatchObject({
      fault: 'entry-refused',
      faults: [{ pointer: '/fields/animals' }, { pointer: '/fields/to', detail: 'To: this is missing; fill it in.' }],
    });
    expect(await lines(room)).toEqual([]);
  });

  test('keeps everything that follows from an entry together with it: stage, batch and limits follow the animals', async () => {
    const room = await twoTanks();
    const { write } = diary(NOON_MS - 3_600_000);
    for (const entry of [
      write('brought-in', 'l2', begun('M1', 1000)),
      write('drain-down', 'l2', { end: 'to', placeId: 'l4', count: { animals: 950 } }),
    ]) {
      expect((await post(room, entry)).statusCode).toBe(201);
    }
    expect(room.desk.place('l2')?.body).toMatchObject({ stage: 'empty' });
    expect(room.desk.place('l4')?.body).toMatchObject({ stage: 'larva', batch: 'M1' });
    expect(room.watch.state().hatchery.places.find(({ id }) => id === 'l4')).toMatchObject({ stage: 'larva' });
    const stock = (await room.ask('viewer', { url: '/api/v1/stock' })).json<StockPicture>();
    expect(stock.lots).toMatchObject([{ placeId: 'l4', batchId: 'M1', animals: 950 }]);
    const batch = (await room.ask('viewer', { url: '/api/v1/batches/M1' })).json<BatchPicture>();
    expect(batch.lines).toHaveLength(2);
    expect(batch.story.accounts).toMatchObject({ unaccounted: 50 });
  });

  test('is read again as it was after a restart', async () => {
    const room = await twoTanks();
    const { write } = diary(NOON_MS - 3_600_000);
    for (const entry of [
      write('brought-in', 'l2', begun('M1', 10)),
      write('work', 'l2', { work: 'filling', minutes: 20 }),
    ]) {
      await post(room, entry);
    }
    const again = readRecord(room.journal);
    expect(again.stock.book.lots).toEqual(room.parts.log.record().stock.book.lots);
    expect(again.work).toEqual(room.parts.log.record().work);
  });

  test('two people who change one entry at once: the second is shown the first, and neither change is lost', async () => {
    const room = await twoTanks();
    const { write } = diary(NOON_MS - 3_600_000);
    const first = write('note', 'l2', { words: 'six litres' });
    await post(room, first);
    const ines = write('note', 'l2', { words: 'seven litres' }, { corrects: first.id });
    const tomas = write('note', 'l2', { words: 'eight litres' }, { corrects: first.id });
    const [one, two] = await Promise.all([post(room, ines), post(room, tomas, 'manager')]);
    expect([one.statusCode, two.statusCode].sort()).toEqual([201, 409]);
    const refused = one.statusCode === 409 ? one : two;
    expect(refused.json()).toMatchObject({ fault: 'entry-corrected-meanwhile' });
    const [old] = await lines(room);
    const kept = one.statusCode === 201 ? ines : tomas;
    expect(old).toMatchObject({ entry: { id: first.id }, replacedBy: kept.id });
    // Having seen it, the second corrects that one.
    const lost = kept === ines ? tomas : ines;
    expect((await post(room, { ...lost, corrects: kept.id })).statusCode).toBe(201);
  });

  test('two people who change one place at once: the second is told, and nothing is overwritten', async () => {
    const room = await twoTanks();
    const seen = (await room.ask('viewer', { url: '/api/v1/places/l4' })).json<Versioned<object>>();
    const put = (volumeL: number) =>
      room.ask('manager', {
        method: 'PUT',
        url: '/api/v1/places/l4',
        headers: { 'if-match': `"${seen.version}"` },
        payload: { ...seen.body, volumeL },
      });
    expect((await put(300)).statusCode).toBe(200);
    expect((await put(400)).statusCode).toBe(412);
    expect(room.desk.place('l4')?.body.volumeL).toBe(300);
  });

  test('an entry that moves animals while somebody edits the tank makes that edit start again', async () => {
    const room = await twoTanks();
    const { write } = diary(NOON_MS - 3_600_000);
    const seen = (await room.ask('viewer', { url: '/api/v1/places/l4' })).json<Versioned<object>>();
    await post(room, write('brought-in', 'l4', begun('M1', 10)));
    const headers = { 'if-match': `"${seen.version}"` };
    const late = await room.ask('manager', {
      method: 'PUT',
      url: '/api/v1/places/l4',
      headers,
      payload: seen.body as object,
    });
    expect(late.statusCode).toBe(412);
    expect(room.desk.place('l4')?.body.batch).toBe('M1');
  });
});

describe('declared work', () => {
  test('reaches the engine with its entry and leaves it with its end', async () => {
    const room = await twoTanks();
    const { write } = diary();
    const work = write('work', 'l2', { work: 'drain-down', minutes: 45 });
    await post(room, work);
    expect(room.watch.state().work).toMatchObject([
      { id: work.id, kind: 'drain-down', untilMs: NOON_MS + 45 * 60_000 },
    ]);
    const open = (await room.ask('viewer', { url: '/api/v1/work' })).json<readonly DeclaredWork[]>();
    expect(open).toHaveLength(1);
    await post(room, write('work-end', undefined, { workId: work.id }, { atMs: NOON_MS + 1000 }));
    expect(room.watch.state().work).toMatchObject([{ endedMs: NOON_MS + 1000 }]);
    expect((await room.ask('viewer', { url: '/api/v1/work' })).json()).toEqual([]);
  });

  test('is declared by the contact of a board, once a press, and ended by the next', async () => {
    const room = await twoTanks();
    const { heedButtons } = await import('../../../gateway/buttons.js');
    const button: Button = {
      id: 'drain-l2',
      channelId: 'l2.contact',
      pressed: 'on',
      does: { kind: 'work', placeId: 'l2', work: 'drain-down', minutes: 45 },
    };
    const headers = { 'if-match': '"0"' };
    const put = await room.ask('manager', { method: 'PUT', url: '/api/v1/buttons/drain-l2', headers, payload: button });
    expect(put.statusCode).toBe(200);
    const complaints: string[] = [];
    heedButtons({
      journal: room.journal,
      watchkeeper: room.watch,
      log: room.parts.log,
      now: room.clock.now,
      complain: (what) => complaints.push(what),
    });
    const contact = (value: number, atMs: number): void => {
      room.clock.isSet(atMs);
      const channel: ChannelPicture = {
        id: 'l2.contact',
        placeId: 'l2',
        quantity: 'contact',
        computed: false,
        state: 'in-target',
        sinceMs: atMs,
        value,
        atMs,
      };
      room.watch.land({ channels: [channel] });
    };
    contact(1, NOON_MS);
    expect(room.parts.log.record().work).toEqual([]);
    contact(0, NOON_MS + 1000);
    contact(1, NOON_MS + 2000);
    contact(0, NOON_MS + 2100);
    contact(1, NOON_MS + 2200);
    expect(room.parts.log.record().work).toMatchObject([{ kind: 'drain-down', by: 'button drain-l2' }]);
    contact(0, NOON_MS + 600_000);
    contact(1, NOON_MS + 601_000);
    expect(room.parts.log.record().work).toMatchObject([{ endedMs: NOON_MS + 601_000 }]);
    expect(complaints).toEqual([]);
  });

  test('a button that could write nothing is refused when it is set up, with every reason', async () => {
    const room = await twoTanks();
    const button = {
      id: 'x',
      channelId: 'l2.temperature',
      pressed: 'on',
      does: { kind: 'entry', placeId: 'l9', entry: 'feeding', fields: {} },
    };
    const headers = { 'if-match': '"0"' };
    const put = await room.ask('manager', { method: 'PUT', url: '/api/v1/buttons/x', headers, payload: button });
    expect(put.statusCode).toBe(422);
    expect(put.json<{ faults: { pointer: string }[] }>().faults.map(({ pointer }) => pointer)).toEqual([
      '/channelId',
      '/does/placeId',
      '/does/fields/volumeL',
    ]);
  });
});

describe('what comes of the log', () => {
  test('is exported whole, with a checksum, and no cell is taken for a formula', async () => {
    const room = await twoTanks();
    const { write } = diary(NOON_MS - 3_600_000);
    await post(room, write('note', 'l2', { words: '=1+1, "quoted"' }));
    const url = `/api/v1/log/export.csv?from=${NOON_MS - 86_400_000}&to=${NOON_MS + 1}`;
    const csv = (await room.ask('viewer', { url })).body;
    const [header, row, end] = csv.split('\r\n');
    expect(header).toContain('happened');
    expect(row).toContain('"\'=1+1, ""quoted"""');
    expect(end).toBe('');
    const sum = (await room.ask('viewer', { url: url.replace('.csv?', '.csv.sha256?') })).body;
    expect(sum.split(' ')[0]).toBe(createHash('sha256').update(csv).digest('hex'));
  });

  test('a photo is kept under the hash of its bytes and named by an entry; what is no photo is refused', async () => {
    const room = await twoTanks();
    const png = Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), Buffer.alloc(20, 7)]);
    const send = (payload: Buffer) =>
      room.ask('crew', { method: 'POST', url: '/api/v1/photos', headers: { 'content-type': 'image/jpeg' }, payload });
    const { id } = (await send(png)).json<{ id: string }>();
    expect(id).toBe(createHash('sha256').update(png).digest('hex'));
    const back = await room.ask('viewer', { url: `/api/v1/photos/${id}` });
    expect(back.headers['content-type']).toBe('image/png');
    expect(back.rawPayload.equals(png)).toBe(true);
    expect((await send(Buffer.from('<svg onload=alert(1)>'))).statusCode).toBe(415);
    expect((await send(Buffer.alloc(7 * 1024 * 1024, 0xff))).statusCode).toBe(413);
    const { write } = diary();
    const note = write('note', 'l2', { words: 'see photo' });
    expect((await post(room, { ...note, photos: [id] })).statusCode).toBe(201);
    const other = write('note', 'l2', { words: 'see photo' });
    expect((await post(room, { ...other, photos: ['0'.repeat(64)] })).statusCode).toBe(422);
  });

  test('a round says what is overdue and who is on site; the papers say what an inspector asks', async () => {
    const room = await twoTanks();
    const { write } = diary(NOON_MS - 30 * 3_600_000);
    await post(room, write('brought-in', 'l4', { ...begun('M1', 10), permit: 'WC-1' }));
    await post(room, write('round', undefined, { which: 'morning', except: [] }, { atMs: NOON_MS - 60_000 }));
    const round = (await room.ask('viewer', { url: '/api/v1/round' })).json<RoundPicture>();
    expect(round.overdue).toMatchObject([{ placeId: 'l4', task: 'water-change' }]);
    expect(round.onSite.map(({ who }) => who)).toEqual(['a crew']);
    const url = `/api/v1/papers?from=${NOON_MS - 40 * 3_600_000}&to=${NOON_MS}`;
    const papers = (await room.ask('viewer', { url })).json<PapersPicture>();
    expect(papers.batches).toMatchObject([{ id: 'M1', permits: ['WC-1'] }]);
    expect(papers.lacking).toEqual([]);
  });
});
