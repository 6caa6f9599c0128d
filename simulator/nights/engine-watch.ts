import { parseChannelId } from '../../rules/channel.js';
import type { Finding } from '../../rules/conditions/finding.js';
import type { Effect } from '../../rules/engine/effect.js';
import type { Happening } from '../../rules/engine/happening.js';
import { type EngineState, emptyState } from '../../rules/engine/state.js';
import { stepAll } from '../../rules/engine.js';
import type { DeclaredWork } from '../../rules/work.js';
import type { Answer, Call, Reaching, Watch } from './call.js';
import type { Moment } from './course.js';
import type { Night } from './night.js';
import { MINUTE_MS } from './span.js';

/** A broker speaks a board's last will one and a half keep-alives of a minute after its last word. */
const LAST_WILL_MS = 1.5 * MINUTE_MS;

type AlarmEffect = Extract<Effect, { do: 'alarm' }>;

const reachingOf = ({ harm, line, channelId }: Finding): Reaching | undefined => {
  const address = channelId === undefined ? undefined : parseChannelId(channelId);
  if (harm === undefined || line === undefined || address === undefined) return undefined;
  const { placeId: tank, quantity } = address;
  return { reachesMs: harm.atMs, tank, quantity, side: line.side, value: line.value };
};

const callOf = ({ alarm, event }: AlarmEffect, atMs: number): Call => {
  const { finding, id, subject } = alarm;
  const forecast = reachingOf(finding);
  return {
    atMs,
    alarmId: id,
    code: finding.condition,
    priority: finding.priority,
    places: [
      ...new Set([
        finding.placeId,
        ...(finding.places ?? []),
        ...(finding.boardId === undefined ? [] : [finding.boardId]),
        subject,
      ]),
    ],
    isAgain: event !== 'cond-on',
    ...(forecast === undefined ? {} : { forecast }),
  };
};

/** What was declared by now, with the ends that were tapped by now. */
export const workAt = (work: readonly DeclaredWork[], atMs: number): readonly DeclaredWork[] =>
  work
    .filter(({ fromMs, endedMs }) => fromMs <= atMs && (endedMs === undefined || atMs < endedMs + 10 * MINUTE_MS))
    .map(({ endedMs, ...rest }) => (endedMs === undefined || endedMs > atMs ? rest : { ...rest, endedMs }));

/** What was still open at a place ends at that moment. */
const withEnded = (work: readonly DeclaredWork[], ended: ReadonlyMap<string, number>): readonly DeclaredWork[] =>
  work.map((one) => {
    const endedMs = ended.get(one.placeId);
    return endedMs === undefined || one.fromMs > endedMs || (one.endedMs ?? Infinity) < endedMs
      ? one
      : { ...one, endedMs };
  });

/** Says what is declared, each time that it changes. */
const workTeller = (night: Night, ended: ReadonlyMap<string, number>): ((atMs: number) => readonly Happening[]) => {
  let told = '[]';
  return (atMs) => {
    const work = workAt(withEnded(night.work, ended), atMs);
    const text = JSON.stringify(work);
    if (text === told) return [];
    told = text;
    return [{ kind: 'work', atMs, work }];
  };
};

/** Says which boards came at once, and which went when the broker notices. */
const boardTeller = (): ((moment: Moment) => readonly Happening[]) => {
  const gone = new Map<string, number>();
  return ({ atMs, boards }) => {
    const news: Happening[] = [];
    for (const { board, state } of boards) {
      if (state === 'offline') gone.set(board, atMs);
      else {
        gone.delete(board);
        news.push({ kind: 'board', atMs, board, state });
      }
    }
    for (const [board, sinceMs] of gone) {
      if (atMs - sinceMs < LAST_WILL_MS) continue;
      gone.delete(board);
      news.push({ kind: 'board', atMs, board, state: 'offline' });
    }
    return news;
  };
};

const begun = ({ told, hours: { preludeMs: atMs } }: Night): EngineState =>
  stepAll(emptyState(told, atMs), [
    { kind: 'hatchery', atMs, hatchery: told },
    { kind: 'start', atMs },
    { kind: 'link', atMs, broker: 'up' },
  ]).state;

/** The engine of the product, told what a gateway would tell it and nothing else. */
export const engineWatch = (night: Night): Watch => {
  let state = begun(night);
  const ended = new Map<string, number>();
  const workNews = workTeller(night, ended);
  const boardNews = boardTeller();
  const tell = (happenings: readonly Happening[]): readonly Effect[] => {
    const done = stepAll(state, happenings);
    state = done.state;
    return done.effects;
  };
  return {
    hear: (moment) => {
      const { atMs, heard } = moment;
      const happenings: Happening[] = [...workNews(atMs), ...boardNews(moment)];
      for (const { sourceId, raw, deviceMs } of heard) {
        happenings.push({ kind: 'reading', atMs, sourceId, raw, ...(deviceMs === undefined ? {} : { deviceMs }) });
      }
      happenings.push({ kind: 'tick', atMs });
      return tell(happenings).flatMap((effect) =>
        effect.do === 'alarm' && effect.deeds.includes('annunciate') ? [callOf(effect, atMs)] : [],
      );
    },
    answer: (answer: Answer) => {
      if (answer.verb === 'end-work') for (const place of answer.places) ended.set(place, answer.atMs);
      else tell([{ kind: 'answer', by: 'watch', ...answer }]);
    },
  };
};
