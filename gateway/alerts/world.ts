import { stepFaults } from '../../rules/alarm/fault.js';
import type { AlertWorld } from '../../rules/alerts/faults.js';
import type { Person } from '../../rules/alerts/person.js';
import { callOrder, inRole, ladderHour } from '../../rules/alerts/watch-plan.js';
import { channelPicture, openAlarms, placePicture } from '../../rules/engine/picture.js';
import type { EngineState } from '../../rules/engine/state.js';
import type { Picture } from '../../rules/wire/picture.js';
import { type Reader, readerOf } from '../../rules/words/language.js';
import type { Journal } from '../journal/journal.js';
import { peopleAt, policiesAt, watchAt } from './people.js';

/** The site as the ladders see it at a moment; read once for everything that happens at that moment. */
export type Scene = {
  readonly atMs: number;
  readonly world: AlertWorld;
  readonly people: readonly Person[];
  /** Made when first asked for: most happenings call nobody. */
  readonly picture: () => Pick<Picture, 'alarms' | 'places' | 'channels'>;
  readonly reader: Reader;
};

export const sceneAt = (journal: Pick<Journal, 'settings'>, state: EngineState, atMs: number): Scene => {
  const people = peopleAt(journal, atMs);
  const plan = watchAt(journal, atMs);
  const { site, places } = state.hatchery;
  let pictured: ReturnType<Scene['picture']> | undefined;
  let groups: readonly (readonly string[])[] | undefined;
  const picture: Scene['picture'] = () => {
    pictured ??= {
      alarms: openAlarms(state),
      places: places.map((place) => placePicture(place, state.work)),
      channels: state.channels.map((_, index) => channelPicture(state, index)),
    };
    return pictured;
  };
  return {
    atMs,
    people,
    reader: readerOf(site),
    world: {
      roster: {
        inRole: (role, when) => inRole(plan, people, role, when, site.zone),
        order: (when) => callOrder(plan, people, when, site.zone),
      },
      policies: policiesAt(journal, atMs),
      hourAt: (when) => ladderHour(plan, when, site.zone, state.presence),
      matesOf: ({ id }) => {
        groups ??= stepFaults([], picture().alarms, state.hatchery, atMs).faults.map(({ members }) => members);
        return groups.find((members) => members.includes(id)) ?? [id];
      },
    },
    picture,
  };
};
