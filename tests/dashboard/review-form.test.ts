import { describe, expect, it } from 'vitest';
import { newBegin, reviewOfForm } from '../../dashboard/state/review-form.js';

const ENTRY = '01KQSZ5M80000000000000000A';
const begin = (from: string | undefined, change: (form: ReturnType<typeof newBegin>) => void = () => undefined) => {
  const form = newBegin({ tank: 'l3', from, now: '2026-07-14T03:10' });
  change(form);
  return reviewOfForm(form, 'Europe/Lisbon');
};

describe('where a review begins', () => {
  it('is a deaths entry with its tank, when it was opened from one', () => {
    expect(begin(ENTRY)).toEqual({ review: { start: 'deaths', entryId: ENTRY, tanks: ['l3'] } });
  });

  it('is a sight with its time by the clock of the site, summer time or not', () => {
    // Lisbon is an hour ahead of UTC in July. [IANA tz, Europe/Lisbon]
    expect(begin('larvae-on-bottom')).toEqual({
      review: { start: 'larvae-on-bottom', tanks: ['l3'], deadMs: Date.UTC(2026, 6, 14, 2, 10) },
    });
  });

  it('takes when they were last seen alive and who saw what, and refuses an order that cannot be', () => {
    const told = begin(undefined, (form) => {
      form.alive.value = '2026-07-13T21:00';
      form.remark.value = ' Ines saw foam ';
    });
    expect(told).toMatchObject({
      review: { start: 'by-hand', aliveMs: Date.UTC(2026, 6, 13, 20), remark: 'Ines saw foam' },
    });
    const wrong = begin(undefined, (form) => {
      form.alive.value = '2026-07-14T03:10';
    });
    expect(wrong).toMatchObject({ field: 'alive' });
    const nothing = begin(undefined, (form) => {
      form.dead.value = '';
    });
    expect(nothing).toMatchObject({ field: 'dead' });
  });
});
