/** Every page and its address. `room` is the wall on a wide screen and the list on a phone. */
export type Route =
  | { readonly page: 'room' }
  | { readonly page: 'tank'; readonly id: string }
  | { readonly page: 'alarms' }
  | { readonly page: 'alarm'; readonly id: string }
  | { readonly page: 'sources' }
  | { readonly page: 'places' }
  /** How to read the drawing. */
  | { readonly page: 'reading' }
  /** Every part in every state, and sample rooms: for whoever works on the pages. */
  | { readonly page: 'parts'; readonly room?: string }
  | { readonly page: 'sign-in' }
  /** The day: what is due, what is under way, what was written. */
  | { readonly page: 'day' }
  /** Writing an entry, of a place and kind where they are chosen already; `corrects` names the version that was seen. */
  | { readonly page: 'write'; readonly place?: string; readonly kind?: string; readonly corrects?: string }
  | { readonly page: 'sheet'; readonly id: string }
  | { readonly page: 'limits'; readonly id: string }
  | { readonly page: 'batches' }
  | { readonly page: 'batch'; readonly id: string }
  | { readonly page: 'runs' }
  | { readonly page: 'run'; readonly id: string }
  | { readonly page: 'round' }
  | { readonly page: 'bench' }
  | { readonly page: 'papers' }
  /** Contacts of boards that write into the log. */
  | { readonly page: 'buttons' }
  /** Name, zone, degrees, and how long what was read is kept. */
  | { readonly page: 'site' }
  /** After deaths: the first hour, and where a review begins; of a tank and an entry where they are known already. */
  | { readonly page: 'reviews'; readonly tank?: string; readonly entry?: string; readonly start?: string }
  | { readonly page: 'review'; readonly id: string }
  /** Any tank, any channel, any range. */
  | { readonly page: 'history'; readonly tank?: string; readonly fromMs?: number; readonly toMs?: number }
  /** Who is woken, the week, the drill. */
  | { readonly page: 'watch' }
  | { readonly page: 'bedside' }
  | { readonly page: 'morning' }
  | { readonly page: 'season' }
  /** How messages leave this site. */
  | { readonly page: 'ways-out' }
  /** Who is called when. */
  | { readonly page: 'ladders' }
  /** How the alarms themselves behave. */
  | { readonly page: 'figures' }
  /** By the signed link of a message. */
  | { readonly page: 'answer'; readonly token: string }
  | { readonly page: 'unknown'; readonly path: string };

/** Pages that are about nothing in particular. */
export const PLAIN = [
  'alarms',
  'sources',
  'places',
  'sign-in',
  'day',
  'batches',
  'runs',
  'round',
  'bench',
  'papers',
  'buttons',
  'site',
  'watch',
  'bedside',
  'morning',
  'season',
  'ways-out',
  'ladders',
  'figures',
  'reading',
] as const;
const isPlain = (text: string): text is (typeof PLAIN)[number] => PLAIN.some((page) => page === text);

/** Pages about one thing: `/tanks/l2`. */
const ABOUT = {
  tanks: 'tank',
  alarms: 'alarm',
  sheets: 'sheet',
  limits: 'limits',
  batches: 'batch',
  runs: 'run',
  reviews: 'review',
} as const;
const isAbout = (text: string): text is keyof typeof ABOUT => Object.hasOwn(ABOUT, text);
const ABOUT_OF = {
  tank: 'tanks',
  alarm: 'alarms',
  sheet: 'sheets',
  limits: 'limits',
  batch: 'batches',
  run: 'runs',
  review: 'reviews',
} as const;

/** The page of an address (path and query); the inverse of `makeRoute`. */
export const parseRoute = (address: string): Route => {
  const [path = '', query = ''] = address.split('?');
  const [first = '', second, ...rest] = path.split('/').filter((level) => level !== '');
  const unknown: Route = { page: 'unknown', path };
  if (rest.length > 0) return unknown;
  if (second !== undefined) {
    const id = decoded(second);
    if (id === undefined) return unknown;
    return isAbout(first) ? { page: ABOUT[first], id } : unknown;
  }
  if (first === '') return { page: 'room' };
  if (first === 'parts') {
    const room = new URLSearchParams(query).get('room');
    return room === null ? { page: 'parts' } : { page: 'parts', room };
  }
  if (first === 'answer') return { page: 'answer', token: new URLSearchParams(query).get('t') ?? '' };
  if (first === 'reviews') return { page: first, ...said(new URLSearchParams(query), ['tank', 'entry', 'start']) };
  if (first === 'history') return historyRoute(new URLSearchParams(query));
  if (first === 'write') return writeRoute(new URLSearchParams(query));
  return isPlain(first) ? { page: first } : unknown;
};

/** What the query says of these, without what it leaves out. */
const said = <Key extends string>(query: URLSearchParams, keys: readonly Key[]): { readonly [key in Key]?: string } =>
  Object.fromEntries(
    keys.flatMap((key) => {
      const value = query.get(key);
      return value === null ? [] : [[key, value] as const];
    }),
  ) as { readonly [key in Key]?: string };

const writeRoute = (query: URLSearchParams): Route => ({
  page: 'write',
  ...said(query, ['place', 'kind', 'corrects']),
});

/** Two moments, or none: half a span is no span. */
const historyRoute = (query: URLSearchParams): Route => {
  const tank = said(query, ['tank']);
  const [fromMs, toMs] = [Number(query.get('from') ?? Number.NaN), Number(query.get('to') ?? Number.NaN)];
  const isSpan = Number.isFinite(fromMs) && Number.isFinite(toMs) && fromMs < toMs;
  return { page: 'history', ...tank, ...(isSpan ? { fromMs, toMs } : {}) };
};

export const makeRoute = (route: Route): string => {
  switch (route.page) {
    case 'room':
      return '/';
    case 'tank':
    case 'alarm':
    case 'sheet':
    case 'limits':
    case 'batch':
    case 'run':
    case 'review':
      return `/${ABOUT_OF[route.page]}/${encodeURIComponent(route.id)}`;
    case 'write': {
      const { page: _, ...about } = route;
      return withQuery('/write', about);
    }
    case 'parts':
      return withQuery('/parts', route.room === undefined ? {} : { room: route.room });
    case 'reviews': {
      const { page: _, ...about } = route;
      return withQuery('/reviews', about);
    }
    case 'history': {
      const { tank, fromMs, toMs } = route;
      const span = fromMs === undefined || toMs === undefined ? {} : { from: String(fromMs), to: String(toMs) };
      return withQuery('/history', { ...(tank === undefined ? {} : { tank }), ...span });
    }
    case 'answer':
      return `/answer?${new URLSearchParams({ t: route.token })}`;
    case 'unknown':
      return route.path;
    default:
      return `/${route.page}`;
  }
};

const withQuery = (path: string, query: Readonly<Record<string, string>>): string =>
  Object.keys(query).length === 0 ? path : `${path}?${new URLSearchParams(query)}`;

const decoded = (text: string): string | undefined => {
  try {
    return decodeURIComponent(text);
  } catch {
    return undefined;
  }
};
