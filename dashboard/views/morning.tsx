import { useSignal } from '@preact/signals';
import type { MorningReport, MorningRow, MorningWaking } from '../../rules/alerts/morning.js';
import { clockWords, durationWords, momentWords } from '../../rules/words/clock.js';
import { valueWords } from '../../rules/words/number.js';
import { waking } from '../link/waking.js';
import { LifeLine, Page } from '../parts/page.js';
import { Pills } from '../parts/pills.js';
import { useAsked } from '../state/asked.js';
import { placeNamed, useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';

/** The night on one screen, worst first. */
export const Morning = () => {
  const { answer, again } = useAsked(waking.morning, 'morning');
  return (
    <Page here="morning">
      <h1 class="page-title">The night</h1>
      {answer.value.kind === 'refused' ? <p class="page-note">{answer.value.problem.detail}</p> : null}
      {answer.value.kind === 'here' ? <Report report={answer.value.value} again={again} /> : null}
      <LifeLine />
    </Page>
  );
};

const Report = ({ report, again }: { readonly report: MorningReport; readonly again: () => void }) => (
  <>
    <ol class="list-alarms">
      {report.rows.map((row) => (
        <Row key={row.placeId} row={row} />
      ))}
    </ol>
    <h2 class="page-part">{report.wakings.length === 0 ? 'Nobody was called' : 'Calls'}</h2>
    {report.wakings.map((one) => (
      <Waking key={one.faultId} waking={one} again={again} />
    ))}
    <Rest report={report} />
  </>
);

/** One tank's night in a line: what was lowest and when, the span of its temperature, how long it lay outside. */
const Row = ({ row }: { readonly row: MorningRow }) => {
  const room = useRoom();
  const reader = room.reader.value;
  const { lowestOxygen, lowestC, highestC } = row;
  const spent = (ms: number, words: string): readonly string[] =>
    ms === 0 ? [] : [`${durationWords(ms, reader)} ${words}`];
  const outside = [
    ...spent(row.outsideLimitMs, 'outside its limit'),
    ...spent(row.outsideTargetMs, 'outside its target'),
    ...spent(row.silentMs, 'silent'),
  ];
  const facts = [
    ...(outside.length === 0 ? ['in its target'] : outside),
    ...(lowestOxygen === undefined
      ? []
      : [
          `oxygen down to ${valueWords('oxygen-saturation', lowestOxygen.value, reader)} at ${clockWords(lowestOxygen.atMs, reader)}`,
        ]),
    ...(lowestC === undefined || highestC === undefined
      ? []
      : [
          `${valueWords('temperature', lowestC.value, reader)} to ${valueWords('temperature', highestC.value, reader)}`,
        ]),
  ];
  return (
    <li class={row.outsideLimitMs > 0 ? 'alarm-line alarm-line-loud' : 'alarm-line'}>
      <a href={makeRoute({ page: 'tank', id: row.placeId })}>
        <b>{placeNamed(room, row.placeId)?.name ?? row.placeId}</b> {facts.join(', ')}
      </a>
    </li>
  );
};

const Waking = ({ waking: one, again }: { readonly waking: MorningWaking; readonly again: () => void }) => {
  const room = useRoom();
  const reader = room.reader.value;
  const said = useSignal<string | undefined>(undefined);
  const place = placeNamed(room, one.placeId)?.name ?? one.placeId;
  const answered =
    one.answeredMs === undefined
      ? 'nobody answered'
      : `${one.answeredBy ?? 'somebody'} answered after ${durationWords(one.answeredMs - one.atMs, reader)}`;
  const judge = async (value: string): Promise<void> => {
    const asked = await waking.wasReal(one.faultId, value === 'yes');
    said.value = asked.ok ? undefined : asked.fault.detail;
    again();
  };
  return (
    <section>
      <p>
        <b>{place}</b>, {momentWords(one.atMs, room.nowMs.value, reader)}:{' '}
        {one.calls === 1 ? 'one call' : `${one.calls} calls`}, {answered}
      </p>
      <Pills
        label="Was it real?"
        value={{ value: one.real === undefined ? '' : one.real ? 'yes' : 'no' }}
        onChoose={(value) => void judge(value)}
        choices={[
          ['yes', 'Yes'],
          ['no', 'No'],
        ]}
      />
      <p role="alert">{said.value}</p>
    </section>
  );
};

const Rest = ({ report: { forecasts, overdue, notWatched } }: { readonly report: MorningReport }) => {
  const room = useRoom();
  const nameOf = (id: string): string => placeNamed(room, id)?.name ?? id;
  const right = forecasts.filter(({ outcome }) => outcome === 'in-interval').length;
  const averted = forecasts.filter(({ outcome }) => outcome === 'averted').length;
  return (
    <>
      <h2 class="page-part">And</h2>
      <p class="page-note">
        Forecasts: {forecasts.length}, came as foretold {right}, averted {averted}. Overdue:{' '}
        {overdue.length === 0
          ? 'nothing'
          : overdue.map(({ placeId, task }) => `${nameOf(placeId)} ${task.replaceAll('-', ' ')}`).join(', ')}
        .
      </p>
      <p class="page-note">
        Not watched:{' '}
        {notWatched.length === 0
          ? 'nothing is left out'
          : `${notWatched.length} channels, ${notWatched
              .slice(0, 6)
              .map(({ channelId }) => channelId)
              .join(', ')}`}
        .
      </p>
    </>
  );
};
