import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { alarmTopic } from '../../rules/wire/topic.js';
import type { Broker } from '../intake/delivery.js';

/** For a lamp or a siren in the building: what one alarm asks of it. Retained, so that a lamp that wakes up knows. */
export type LampWord = {
  readonly state: 'sounding' | 'silent';
  readonly priority: AlarmPicture['priority'];
  readonly place: string;
  readonly condition: string;
  readonly sinceMs: number;
};

export type Lamp = {
  /** What is on the broker becomes what should be there; what could not be said is said at the next call. */
  show(alarms: readonly AlarmPicture[]): Promise<void>;
  /** Sounds for a moment under a name of its own, and is taken away again; false when the broker did not take it. */
  trial(): Promise<boolean>;
};

const wordOf = (alarm: AlarmPicture): string | undefined => {
  const { state, inhibit, priority, finding, activatedMs } = alarm;
  if (inhibit !== undefined || state === 'normal' || priority === 'low') return undefined;
  const isSounding = state === 'unack';
  const word: LampWord = {
    state: isSounding ? 'sounding' : 'silent',
    priority,
    place: finding.placeId,
    condition: finding.condition,
    sinceMs: activatedMs,
  };
  return JSON.stringify(word);
};

/** Of an earlier run: whatever lies there is said anew, or taken away. */
const UNKNOWN = '?';

/** [MQTT 3.3.1.3] an empty retained payload takes the kept message away. */
const GONE = '';

/** Topics that lie on the broker; an earlier run may have left some. */
export type LampMemory = { readonly kept: () => readonly string[]; readonly keep: (topics: readonly string[]) => void };

export const buildLamp = (publish: Broker['publish'], site: string, memory?: LampMemory): Lamp => {
  const shown = new Map<string, string>((memory?.kept() ?? []).map((topic) => [topic, UNKNOWN]));
  let busy = Promise.resolve();
  const put = async (topic: string, word: string): Promise<void> => {
    try {
      // Before it leaves: whoever starts after a crash must know of it.
      if (!shown.has(topic)) memory?.keep([...shown.keys(), topic]);
      await publish(topic, word, { retain: true, qos: 1 });
      if (word === GONE) shown.delete(topic);
      else shown.set(topic, word);
      if (word === GONE) memory?.keep([...shown.keys()]);
    } catch {
      // The broker is away: what is wanted is compared with what was said again each second.
    }
  };
  const showNow = async (alarms: readonly AlarmPicture[]): Promise<void> => {
    const wanted = new Map(
      alarms.flatMap((alarm) => {
        const word = wordOf(alarm);
        return word === undefined ? [] : [[alarmTopic(site, alarm.id), word] as const];
      }),
    );
    for (const topic of shown.keys()) if (!wanted.has(topic)) await put(topic, GONE);
    for (const [topic, word] of wanted) if (shown.get(topic) !== word) await put(topic, word);
  };
  return {
    show: (alarms) => {
      busy = busy.then(() => showNow(alarms));
      return busy;
    },
    trial: async () => {
      const topic = alarmTopic(site, 'test');
      const word: LampWord = { state: 'sounding', priority: 'high', place: 'test', condition: 'test', sinceMs: 0 };
      try {
        await publish(topic, JSON.stringify(word), { retain: false, qos: 1 });
        await new Promise((resolve) => setTimeout(resolve, TRIAL_MS));
        await publish(topic, GONE, { retain: false, qos: 1 });
        return true;
      } catch {
        return false;
      }
    },
  };
};

const TRIAL_MS = 3_000;
