import { WORK_KINDS } from '../../work.js';
import { atMs, line, placeId, ulid, words } from '../common.js';
import { choice, fieldsOf, flag, listOf, maybe, number } from '../field.js';

export const ROUNDS = ['morning', 'evening', 'night'] as const;

/** Work that was declared, rounds, and what fits nowhere else. */
export const KEEPING_KINDS = {
  /** Counts down from the entry's own time; the work's name is the id of this entry. */
  work: fieldsOf({ work: choice(WORK_KINDS), minutes: number(1, 10_080, 'min') }),
  'work-longer': fieldsOf({ workId: ulid, untilMs: atMs }),
  'work-end': fieldsOf({ workId: ulid }),
  /** Everything was seen but these. */
  round: fieldsOf({
    which: choice(ROUNDS),
    except: listOf(fieldsOf({ placeId, words: maybe(line) }), 0, 500),
  }),
  'on-site': fieldsOf({ here: flag }),
  note: fieldsOf({ words }),
  /** Takes an entry back: it stays readable, and counts no more. */
  struck: fieldsOf({ why: line }),
} as const;
