import { describe, expect, it } from 'vitest';
import { buttonForm, buttonOfForm, deedOfWork, faultsOf } from '../../dashboard/state/button-form.js';

const READER = { zone: 'UTC', hours: 24, temperatureUnit: 'C' } as const;
const made = (change: (form: ReturnType<typeof buttonForm>) => void) => {
  const form = buttonForm(undefined, READER);
  change(form);
  return buttonOfForm(form, READER);
};
const pointers = (answer: ReturnType<typeof made>) => ('button' in answer ? [] : answer.map(({ pointer }) => pointer));

describe('the form of a button', () => {
  it('declares work at a tank, under a name that a person gave it', () => {
    expect(
      made((form) => {
        form.name.value = 'Drain L2!';
        form.channelId.value = 'l2.contact';
        form.place.value = 'l2';
        form.deed.value = deedOfWork('drain-down');
        form.minutes.value = '75';
      }),
    ).toEqual({
      button: {
        id: 'drain-l2',
        channelId: 'l2.contact',
        pressed: 'on',
        does: { kind: 'work', placeId: 'l2', work: 'drain-down', minutes: 75 },
      },
    });
  });

  it('writes an entry with its fields, and comes back into the form as it was', () => {
    const button = {
      id: 'fed',
      channelId: 'l3.contact',
      pressed: 'off',
      does: { kind: 'entry', placeId: 'l3', entry: 'feeding', fields: { alga: 'diatom', volumeL: 4.5 } },
    } as const;
    expect(buttonOfForm(buttonForm(button, READER), READER)).toEqual({ button });
  });

  it('says everything that is missing at once', () => {
    expect(
      pointers(
        made((form) => {
          form.minutes.value = 'long';
        }),
      ),
    ).toEqual(['/id', '/channelId', '/does/placeId', '/does/minutes']);
  });

  it('puts what the gateway refuses to the field that it is about', () => {
    const faults = [{ pointer: '/does/fields/volumeL', detail: 'How much?' }];
    const problem = { type: '', title: '', status: 422, detail: 'refused', fault: 'settings-conflict', faults };
    expect(faultsOf(problem)).toEqual([{ pointer: '/fields/volumeL', detail: 'How much?' }]);
  });
});
