import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { BedReport } from '../../rules/bed/report.js';
import type { BoardSettings, Site } from '../../rules/hatchery.js';
import type { SpawningRun } from '../../rules/log/run.js';
import type { StageStay } from '../../rules/log/stage-stay.js';
import type { Place } from '../../rules/place.js';
import { fault, ok, type Result } from '../../rules/result.js';
import type { Review } from '../../rules/review/review.js';
import type {
  AddedBoard,
  ChannelReadings,
  MalformedPicture,
  NameSource,
  Problem,
  Recipe,
  RetiredPlace,
  SessionPicture,
  SitePicture,
  SourcePicture,
  Trails,
  Versioned,
} from '../../rules/wire/api.js';
import type { ForecastsPicture } from '../../rules/wire/forecasts.js';
import type {
  BatchLine,
  BatchPicture,
  Button,
  LogLine,
  NewEntry,
  PapersPicture,
  RoundPicture,
  RunPicture,
  StockPicture,
} from '../../rules/wire/log.js';
import type { FrozenReview, NewReview, ReviewDifferences, ReviewLine, SinceFrozen } from '../../rules/wire/review.js';

import type { Soundings, SoundingsAsked } from '../../rules/wire/soundings.js';

/** An answer of the gateway, or the problem it named: never an error that looks like a value. */
export type Asked<T> = Result<T, Problem>;

export type LogQuery = { readonly [key in 'from' | 'to' | 'place' | 'kind' | 'batch']?: string };

type Request = {
  readonly method?: 'GET' | 'POST' | 'PUT' | 'DELETE';
  readonly body?: unknown;
  readonly photo?: Blob;
  readonly ifMatch?: number;
};

/** Both ends are compiled against rules/wire/api.ts, and a page of another build reloads itself; so the shape is believed here. */
export const ask = async <T>(
  path: string,
  { method = 'GET', body, photo, ifMatch }: Request = {},
): Promise<Asked<T>> => {
  const headers: Record<string, string> = { accept: 'application/json' };
  if (body !== undefined) headers['content-type'] = 'application/json';
  if (photo !== undefined) headers['content-type'] = photo.type.startsWith('image/') ? photo.type : 'image/jpeg';
  if (ifMatch !== undefined) headers['if-match'] = `"${ifMatch}"`;
  try {
    const answer = await fetch(`/api/v1${path}`, {
      method,
      headers,
      credentials: 'same-origin',
      ...(photo !== undefined ? { body: photo } : body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    if (!answer.ok) return fault(await problemOf(answer));
    return ok(answer.status === 204 ? (undefined as T) : ((await answer.json()) as T));
  } catch {
    return fault(NO_ANSWER);
  }
};

const NO_ANSWER: Problem = {
  type: 'about:blank',
  title: 'No answer',
  status: 0,
  detail: 'The gateway does not answer. Nothing was changed; try again when the connection is back.',
  fault: 'NO_ANSWER',
};

const problemOf = async (answer: Response): Promise<Problem> => {
  const plain: Problem = {
    type: 'about:blank',
    title: answer.statusText,
    status: answer.status,
    detail: `The gateway refused (${answer.status}).`,
    fault: 'REFUSED',
  };
  try {
    return { ...plain, ...((await answer.json()) as Partial<Problem>) };
  } catch {
    return plain;
  }
};

const part = encodeURIComponent;

/** What a person does to an alarm, and its address. */
const ALARM_DEEDS = {
  acknowledgement: ['POST', 'acknowledgement'],
  reset: ['POST', 'reset'],
  shelving: ['POST', 'shelving'],
  unshelving: ['DELETE', 'shelving'],
  'out-of-service': ['POST', 'out-of-service'],
  'back-in-service': ['DELETE', 'out-of-service'],
} as const;
export type AlarmDeedName = keyof typeof ALARM_DEEDS;

export const api = {
  session: () => ask<SessionPicture>('/session'),
  signIn: (name: string, passphrase: string) =>
    ask<SessionPicture>('/session', { method: 'POST', body: { name, passphrase } }),
  signInFirst: (code: string, name: string, passphrase: string) =>
    ask<SessionPicture>('/session/first', { method: 'POST', body: { code, name, passphrase } }),
  signOut: () => ask<undefined>('/session', { method: 'DELETE' }),
  trails: () => ask<Trails>('/trails?hours=3&points=60'),
  readings: (channelId: string, fromMs: number, toMs: number, points: number) =>
    ask<ChannelReadings>(
      `/channels/${part(channelId)}/readings?from=${Math.floor(fromMs)}&to=${Math.ceil(toMs)}&points=${points}`,
    ),
  bed: (placeId: string) => ask<BedReport>(`/places/${part(placeId)}/bed`),
  alarms: (state: 'open' | 'ended') => ask<readonly AlarmPicture[]>(`/alarms?state=${state}`),
  acknowledge: (alarmId: string) =>
    ask<AlarmPicture>(`/alarms/${part(alarmId)}/acknowledgement`, { method: 'POST', body: {} }),
  forecasts: () => ask<ForecastsPicture>('/forecasts'),
  soundings: ({ place, ...span }: SoundingsAsked) =>
    ask<Soundings>(`/places/${part(place.id)}/soundings`, { method: 'POST', body: { ...span, place } }),
  alarmDeed: (alarmId: string, deed: AlarmDeedName, body: object) => {
    const [method, path] = ALARM_DEEDS[deed];
    return ask<AlarmPicture>(`/alarms/${part(alarmId)}/${path}`, method === 'POST' ? { method, body } : { method });
  },
  sources: () => ask<readonly SourcePicture[]>('/sources'),
  nameSource: (sourceId: number, name: NameSource) =>
    ask<SourcePicture>(`/sources/${sourceId}/mapping`, { method: 'POST', body: name }),
  malformed: () => ask<readonly MalformedPicture[]>('/malformed'),
  addBoard: (board: string, replace: boolean) =>
    ask<AddedBoard>('/boards', { method: 'POST', body: { board, replace } }),
  recipe: () => ask<Recipe>('/boards/recipe'),
  place: (id: string) => ask<Versioned<Place>>(`/places/${part(id)}`),
  site: () => ask<SitePicture>('/site'),
  changeSite: (site: Site, version: number) =>
    ask<Versioned<Site>>('/site', { method: 'PUT', body: site, ifMatch: version }),
  addPlace: (place: Omit<Place, 'id'> & { readonly id?: string }) =>
    ask<Versioned<Place>>('/places', { method: 'POST', body: place }),
  changePlace: (place: Place, version: number) =>
    ask<Versioned<Place>>(`/places/${part(place.id)}`, { method: 'PUT', body: place, ifMatch: version }),
  log: (query: LogQuery) => ask<readonly LogLine[]>(`/log?${new URLSearchParams(query)}`),
  entry: (id: string) => ask<LogLine>(`/log/${part(id)}`),
  write: (entry: NewEntry) => ask<LogLine>('/log', { method: 'POST', body: entry }),
  sendPhoto: (photo: Blob) => ask<{ readonly id: string }>('/photos', { method: 'POST', photo }),
  stock: () => ask<StockPicture>('/stock'),
  batches: () => ask<readonly BatchLine[]>('/batches'),
  batch: (id: string) => ask<BatchPicture>(`/batches/${part(id)}`),
  stageStays: () => ask<readonly StageStay[]>('/stage-stays'),
  buttons: () => ask<readonly Versioned<Button>[]>('/buttons'),
  putButton: (button: Button, version: number) =>
    ask<Versioned<Button>>(`/buttons/${part(button.id)}`, { method: 'PUT', body: button, ifMatch: version }),
  dropButton: (id: string) => ask<undefined>(`/buttons/${part(id)}`, { method: 'DELETE' }),
  removePlace: (id: string, version: number) =>
    ask<undefined>(`/places/${part(id)}`, { method: 'DELETE', ifMatch: version }),
  board: (id: string) => ask<Versioned<BoardSettings>>(`/boards/${part(id)}/settings`),
  putBoard: (board: BoardSettings, version: number) =>
    ask<Versioned<BoardSettings>>(`/boards/${part(board.id)}/settings`, {
      method: 'PUT',
      body: board,
      ifMatch: version,
    }),
  runs: () => ask<readonly SpawningRun[]>('/runs'),
  run: (id: string) => ask<RunPicture>(`/runs/${part(id)}`),
  round: () => ask<RoundPicture>('/round'),
  retiredPlaces: () => ask<readonly RetiredPlace[]>('/retired-places'),
  reviews: () => ask<readonly ReviewLine[]>('/reviews'),
  reviewRecord: (id: string) => ask<Review>(`/reviews/${part(id)}/record`),
  reviewSince: (id: string) => ask<SinceFrozen>(`/reviews/${part(id)}/since`),
  beginReview: (review: NewReview) => ask<FrozenReview>('/reviews', { method: 'POST', body: review }),
  reviewDifferences: (id: string) => ask<ReviewDifferences>(`/reviews/${part(id)}/differences`),
  papers: (fromMs: number, toMs: number) => ask<PapersPicture>(`/papers?from=${fromMs}&to=${toMs}`),
} as const;

export type Api = typeof api;
