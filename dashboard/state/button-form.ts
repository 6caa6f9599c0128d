import { type Signal, signal } from '@preact/signals';
import { ENTRY_KINDS, isEntryKind, needsPlace } from '../../rules/log/entry.js';
import type { Problem } from '../../rules/wire/api.js';
import type { Button } from '../../rules/wire/log.js';
import { groupedWords, plainWords, typedNumber } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { isWorkKind } from '../../rules/work.js';
import { fieldsFrom, type Texts, textsFrom } from './entry-draft.js';
import type { FormSaid } from './writing.js';

/** What stands in the form of a button. `deed` is a kind of entry or, with `work:` before it, a kind of work. */
export type ButtonForm = {
  readonly name: Signal<string>;
  readonly channelId: Signal<string>;
  readonly pressed: Signal<string>;
  readonly place: Signal<string>;
  readonly deed: Signal<string>;
  readonly minutes: Signal<string>;
  readonly texts: Signal<Texts>;
  readonly faults: Signal<readonly FormSaid[]>;
};

const WORK = 'work:';
export const workOfDeed = (deed: string): string | undefined =>
  deed.startsWith(WORK) ? deed.slice(WORK.length) : undefined;
export const deedOfWork = (work: string): string => `${WORK}${work}`;

const MINUTES = 60;
const NEW: Button = {
  id: '',
  channelId: '',
  pressed: 'on',
  does: { kind: 'work', placeId: '', work: 'drain-down', minutes: MINUTES },
};

export const buttonForm = (button: Button = NEW, reader: Reader): ButtonForm => {
  const { id, channelId, pressed, does } = button;
  const texts = does.kind === 'entry' ? textsFrom(ENTRY_KINDS[does.entry].shape, does.fields, reader) : {};
  return {
    name: signal(id),
    channelId: signal(channelId),
    pressed: signal(pressed),
    place: signal(does.placeId ?? ''),
    deed: signal(does.kind === 'entry' ? does.entry : deedOfWork(does.work)),
    minutes: signal(plainWords(does.kind === 'work' ? does.minutes : MINUTES, 12, reader)),
    texts: signal(texts),
    faults: signal([]),
  };
};

/** `drain-down-l2`, from whatever somebody called it. */
const slugOf = (name: string): string =>
  name
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 40)
    .replace(/-+$/, '');

/** The button as the gateway takes it, or what is missing, with its place. The rest is told by the gateway. */
export const buttonOfForm = (form: ButtonForm, reader: Reader): { readonly button: Button } | readonly FormSaid[] => {
  const { name, channelId, pressed, place, deed, minutes, texts } = form;
  const work = workOfDeed(deed.value);
  const length = typedNumber(minutes.value, reader) ?? undefined;
  const id = slugOf(name.value);
  const faults: readonly FormSaid[] = [
    ...(id === '' ? [{ pointer: '/id', detail: 'A name with a letter or digit, as it stands on the button.' }] : []),
    ...(channelId.value === '' ? [{ pointer: '/channelId', detail: 'Which contact is the button?' }] : []),
    ...(place.value === '' && (work !== undefined || (isEntryKind(deed.value) && needsPlace(deed.value)))
      ? [{ pointer: '/does/placeId', detail: 'At which tank?' }]
      : []),
    ...(work !== undefined && (length === undefined || length < 1 || length > 10_080)
      ? [{ pointer: '/does/minutes', detail: `Minutes, from 1 to ${groupedWords(10_080, reader)} (a week).` }]
      : []),
  ];
  if (faults.length > 0) return faults;
  const common = { id, channelId: channelId.value, pressed: pressed.value === 'off' ? 'off' : 'on' } as const;
  if (work !== undefined && isWorkKind(work))
    return { button: { ...common, does: { kind: 'work', placeId: place.value, work, minutes: length ?? MINUTES } } };
  if (!isEntryKind(deed.value)) return [{ pointer: '/does/kind', detail: 'What does it write?' }];
  const fields = fieldsFrom(ENTRY_KINDS[deed.value].shape, texts.value, reader) ?? {};
  const where = place.value === '' ? {} : { placeId: place.value };
  return { button: { ...common, does: { kind: 'entry', ...where, entry: deed.value, fields } } };
};

/** What the gateway says of the form, at the fields of the form: an entry's own lie under `/fields`. */
export const faultsOf = ({ faults, detail }: Problem): readonly FormSaid[] =>
  (faults ?? [{ pointer: '', detail }]).map((one) => ({
    ...one,
    pointer: one.pointer.replace(/^\/does\/fields/, '/fields'),
  }));
