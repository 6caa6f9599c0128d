import type { AlarmPicture } from '../alarm/alarm.js';
import { parseChannelId } from '../channel.js';
import { type Finding, PRIORITIES, type Priority } from '../conditions/finding.js';
import type { Regime } from '../place.js';
import type { Stage } from '../stage/stage.js';
import type { Picture, PlacePicture } from '../wire/picture.js';
import type { AlertFault, FaultCall } from './faults.js';
import type { WatchLoss } from './heartbeat.js';
import type { CallKind, Standing } from './ladder.js';
import type { MorningReport } from './morning.js';
import type { Person } from './person.js';

/** Somebody who has been told, and what they said. */
export type ToldPerson = {
  readonly name: string;
  readonly standing?: Exclude<Standing['kind'], 'ended' | 'climbing'>;
  readonly untilMs?: number;
};

/** A tank in a message, as people call it. */
export type NoticePlace = {
  readonly id: string;
  readonly name: string;
  readonly stage?: Stage;
  readonly regime?: Regime;
  readonly batch?: string;
};

/** What one message about one fault says: codes and canonical numbers; the sentences are in rules/words/notice.ts. */
export type FaultNotice = {
  readonly kind: CallKind;
  readonly atMs: number;
  readonly faultId: string;
  readonly alarmId: string;
  readonly key: string;
  readonly priority: Priority;
  readonly place: NoticePlace;
  readonly finding: Finding;
  /** Device time of the reading that it rests on. */
  readonly readingMs?: number;
  /** Every tank of this fault, the worst first. */
  readonly tanks: readonly string[];
  /** Tanks in alarm by other faults. */
  readonly others: readonly string[];
  readonly told: readonly ToldPerson[];
  /** Who took it, passed it on, or is looked for. */
  readonly by?: string;
  readonly untilMs?: number;
  readonly chattering?: true;
  /** The water is back, but was beyond what is never to be passed. */
  readonly latched?: true;
};

export type Notice =
  | FaultNotice
  /** Many faults at once, the worst first. */
  | {
      readonly kind: 'flood';
      readonly atMs: number;
      readonly key: string;
      readonly worst: readonly FaultNotice[];
      readonly faults: number;
    }
  /** The morning report; `names` of the places in it. */
  | {
      readonly kind: 'morning';
      readonly atMs: number;
      readonly key: string;
      readonly report: MorningReport;
      readonly names: Readonly<Record<string, string>>;
    }
  | {
      readonly kind: 'drill';
      readonly atMs: number;
      readonly key: string;
      readonly drillId: string;
      readonly by: string;
    }
  | {
      readonly kind: 'watch-empty';
      readonly atMs: number;
      readonly key: string;
      readonly fromMs: number;
      readonly toMs: number;
    }
  | { readonly kind: 'check-in-fails'; readonly atMs: number; readonly key: string; readonly sinceMs: number }
  | {
      readonly kind: 'gateway-lost';
      readonly atMs: number;
      readonly key: string;
      readonly site: string;
      readonly loss: WatchLoss;
      readonly sinceMs: number;
    }
  | {
      readonly kind: 'gateway-back';
      readonly atMs: number;
      readonly key: string;
      readonly site: string;
      readonly sinceMs: number;
    };

export type NoticeWorld = {
  readonly picture: Pick<Picture, 'alarms' | 'places' | 'channels'>;
  readonly people: readonly Person[];
  /** Alarm ids of every fault that is open. */
  readonly faults: readonly AlertFault[];
  readonly chattering: boolean;
};

const rank = (priority: Priority): number => -PRIORITIES.indexOf(priority);

/** Worst first: priority, then time to harm, then the older. */
export const worstAlarmFirst = (a: AlarmPicture, b: AlarmPicture): number =>
  rank(a.priority) - rank(b.priority) ||
  (a.finding.harm?.atMs ?? Number.MAX_SAFE_INTEGER) - (b.finding.harm?.atMs ?? Number.MAX_SAFE_INTEGER) ||
  a.activatedMs - b.activatedMs ||
  (a.id < b.id ? -1 : 1);

const noticePlace = (places: readonly PlacePicture[], id: string): NoticePlace => {
  const place = places.find((one) => one.id === id);
  if (place === undefined) return { id, name: id };
  const { name, stage, regime, batch } = place;
  return {
    id,
    name,
    ...(stage === undefined ? {} : { stage }),
    ...(regime === undefined ? {} : { regime }),
    ...(batch === undefined ? {} : { batch }),
  };
};

const toldPeople = ({ ladder }: AlertFault, people: readonly Person[]): readonly ToldPerson[] =>
  (ladder?.told ?? []).flatMap((id): readonly ToldPerson[] => {
    const name = people.find((person) => person.id === id)?.name ?? id;
    const standing = ladder?.standing;
    if (standing === undefined || !('by' in standing) || standing.by !== id) return [{ name }];
    return [
      {
        name,
        standing: standing.kind,
        ...('untilMs' in standing && standing.untilMs !== undefined ? { untilMs: standing.untilMs } : {}),
      },
    ];
  });

/** The message of a call, as things stand now; undefined when the fault's alarms are all gone. */
export const faultNotice = (call: FaultCall, fault: AlertFault, world: NoticeWorld): FaultNotice | undefined => {
  const { alarms, places, channels } = world.picture;
  const ids = new Set(fault.members.map(({ id }) => id));
  const members = alarms.filter(({ id }) => ids.has(id)).sort(worstAlarmFirst);
  const [worst] = members;
  if (worst === undefined) return undefined;
  const { finding } = worst;
  const nameOf = (id: string): string => places.find((place) => place.id === id)?.name ?? id;
  const tanks = [...new Set(members.flatMap((alarm) => [alarm.finding.placeId, ...(alarm.finding.places ?? [])]))];
  const waiting = alarms.filter(
    ({ id, inhibit, priority, state }) =>
      !ids.has(id) && inhibit === undefined && priority !== 'low' && state === 'unack',
  );
  const others = [...new Set(waiting.sort(worstAlarmFirst).map((alarm) => alarm.finding.placeId))].filter(
    (id) => !tanks.includes(id),
  );
  const readingMs = channels.find(({ id }) => id === finding.channelId)?.atMs;
  const standing = fault.ladder?.standing;
  const by =
    standing !== undefined && 'by' in standing ? world.people.find(({ id }) => id === standing.by)?.name : undefined;
  return {
    kind: call.kind,
    atMs: call.atMs,
    faultId: fault.id,
    alarmId: worst.id,
    key: call.key,
    priority: worst.priority,
    place: noticePlace(places, finding.placeId),
    finding,
    ...(readingMs === undefined ? {} : { readingMs }),
    tanks: tanks.map(nameOf),
    others: others.map(nameOf),
    told: toldPeople(fault, world.people),
    ...(by === undefined ? {} : { by }),
    ...(standing?.kind === 'going' ? { untilMs: standing.untilMs } : {}),
    ...(world.chattering ? { chattering: true } : {}),
    ...(worst.state === 'latched-unack' || worst.state === 'latched-ack' ? { latched: true } : {}),
  };
};

/** The quantity that a fault's message is about, where it has one. */
export const noticeQuantity = ({ finding }: FaultNotice) =>
  finding.channelId === undefined ? undefined : parseChannelId(finding.channelId)?.quantity;
