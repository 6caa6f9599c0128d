import type { NightGateway } from './night-gateway.js';

export const MODEM_BAUD = 115_200;
export const WATER = { tank: 'L2', placeId: 'l2' } as const;
/** Invented people with invented numbers. */
export const PEOPLE = {
  first: { id: 'asta', name: 'Asta', phone: '+15550100001', email: 'asta@wrack-cove.example' },
  second: { id: 'bela', name: 'Bela', phone: '+15550100002' },
} as const;

type Peers = {
  readonly push: { readonly endpoint: string; readonly p256dh: string; readonly auth: string };
  readonly mailPort: number;
  readonly modem: { readonly path: string; readonly baud: number };
};

const QUANTITIES = { temperature: 'degC', salinity: 'psu', 'oxygen-saturation': '%' } as const;
type Source = { readonly id: number; readonly topic: string };

/** A line, a tank, its probes by name, two people with their ways, and a watch without gaps: all over the API. */
export const furnish = async ({ ask }: NightGateway, { push, mailPort, modem }: Peers): Promise<void> => {
  await ask('POST', '/places', { id: 'larval-line', kind: 'line', name: 'Larval line' });
  const tank = { id: WATER.placeId, kind: 'tank', name: WATER.tank, lineId: 'larval-line', regime: 'static' };
  const animals = {
    stage: 'larva',
    speciesGroup: 'warm-temperate-burrowing-clam',
    volumeL: 400,
    depthM: 0.9,
    heaterW: 1_800,
  };
  await ask('POST', '/places', { ...tank, ...animals });
  for (const { id, topic } of (await ask('GET', '/sources')) as readonly Source[]) {
    const [, , quantity = ''] = topic.split('/');
    const unit = Object.entries(QUANTITIES).find(([name]) => name === quantity)?.[1];
    await ask('POST', `/sources/${id}/mapping`, { place: { id: WATER.placeId }, quantity, unit });
  }
  const { first, second } = PEOPLE;
  const phone = (address: string) => ['text', 'ring'].map((way) => ({ way, address, wakes: 'yes' }));
  const ways = [
    { way: 'push', address: '', wakes: 'yes' },
    { way: 'email', address: first.email, wakes: 'no' },
  ];
  await ask(
    'PUT',
    `/people/${first.id}`,
    { id: first.id, name: first.name, manager: false, ways: [...ways, ...phone(first.phone)] },
    0,
  );
  await ask(
    'PUT',
    `/people/${second.id}`,
    { id: second.id, name: second.name, manager: true, ways: phone(second.phone) },
    0,
  );
  const week = [1, 2, 3, 4, 5, 6, 7].flatMap((weekday) => [
    { weekday, fromMinute: 0, minutes: 1_440, role: 'on-call', personId: first.id },
    { weekday, fromMinute: 0, minutes: 1_440, role: 'backup', personId: second.id },
  ]);
  await ask('PUT', '/watch', { shifts: week, swaps: [], holidays: [], dayFromMinute: 420, dayToMinute: 1_080 }, 0);
  const email = { host: '127.0.0.1', port: mailPort, security: 'none', from: 'watch@wrack-cove.example' };
  await ask('PUT', '/delivery', { email, modem, contact: 'mailto:watch@wrack-cove.example' }, 0);
  const { endpoint, p256dh, auth } = push;
  await ask('POST', '/push/subscriptions', { endpoint, keys: { p256dh, auth }, device: 'phone', personId: first.id });
};
