import { useSignal } from '@preact/signals';
import type { MorningReport, MorningRow, MorningWaking } from '../../rules/alerts/morning.js';
import {
  isCalm,
  morningCalmLine,
  morningMilderLine,
  morningRest,
  morningRowFacts,
  morningTitle,
  morningWakingLine,
} from '../../rules/words/morning.js';
import { waking } from '../link/waking.js';
import { LifeLine, Page } from '../parts/page.js';
import { Pills } from '../parts/pills.js';
import { useAsked } from '../state/asked.js';
import { placeNamed, useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';

/** The night on one screen, worst first. */
export const Morning = () => {
  const room = useRoom();
  const { answer, again } = useAsked(waking.morning, 'morning');
  return (
    <Page here="morning">
      <h1 class="page-title">
        {answer.value.kind === 'here' ? morningTitle(answer.value.value, room.reader.value) : 'The night'}
      </h1>
      {answer.value.kind === 'waiting' ? <p class="page-note">Adding up the night …</p> : null}
      {answer.value.kind === 'refused' ? <p class="page-note">{answer.value.problem.detail}</p> : null}
      {answer.value.kind === 'here' ? <Report report={answer.value.value} again={again} /> : null}
      <LifeLine />
    </Page>
  );
};

/** So many rows leave room on a phone for the calls and for what is overdue. */
const FIRST = 6;

const Report = ({ report, again }: { readonly report: MorningReport; readonly again: () => void }) => {
  const room = useRoom();
  const calm = report.rows.filter(isCalm);
  const lively = report.rows.filter((row) => !isCalm(row));
  const nameOf = (id: string): string => placeNamed(room, id)?.name ?? id;
  return (
    <>
      <Rows rows={lively.slice(0, FIRST)} />
      {lively.length <= FIRST ? null : (
        <details class="morning-calm">
          <summary>{morningMilderLine(lively.slice(FIRST), nameOf, room.reader.value)}</summary>
          <Rows rows={lively.slice(FIRST)} />
        </details>
      )}
      {calm.length === 0 ? null : (
        <details class="morning-calm">
          <summary>{morningCalmLine(calm, nameOf, room.reader.value)}</summary>
          <Rows rows={calm} />
        </details>
      )}
      <h2 class="page-part">{report.wakings.length === 0 ? 'Nobody was called' : 'Calls'}</h2>
      {report.wakings.map((one) => (
        <Waking key={one.faultId} waking={one} again={again} />
      ))}
      <Rest report={report} />
    </>
  );
};

const Rows = ({ rows }: { readonly rows: readonly MorningRow[] }) => (
  <ol class="morning-rows">
    {rows.map((row) => (
      <Row key={row.placeId} row={row} />
    ))}
  </ol>
);

/** One tank's night in a line: how long it lay outside, what was lowest and when, the span of its temperature. */
const Row = ({ row }: { readonly row: MorningRow }) => {
  const room = useRoom();
  return (
    <li>
      <a href={makeRoute({ page: 'tank', id: row.placeId })}>
        <b class={row.outsideLimitMs > 0 ? 'said-alarm' : undefined}>
          {placeNamed(room, row.placeId)?.name ?? row.placeId}
        </b>{' '}
        {morningRowFacts(row, room.reader.value).join(', ')}
      </a>
    </li>
  );
};

const Waking = ({ waking: one, again }: { readonly waking: MorningWaking; readonly again: () => void }) => {
  const room = useRoom();
  const reader = room.reader.value;
  const said = useSignal<string | undefined>(undefined);
  const place = placeNamed(room, one.placeId)?.name ?? one.placeId;
  const judge = async (value: string): Promise<void> => {
    const asked = await waking.wasReal(one.faultId, value === 'yes');
    said.value = asked.ok ? undefined : asked.fault.detail;
    again();
  };
  return (
    <section>
      <p>{morningWakingLine(one, place, room.nowMs.value, reader)}</p>
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

const Rest = ({ report }: { readonly report: MorningReport }) => {
  const room = useRoom();
  const nameOf = (id: string): string => placeNamed(room, id)?.name ?? id;
  return (
    <>
      <h2 class="page-part">And</h2>
      <div class="morning-rest">
        {morningRest(report, nameOf, room.reader.value).map((line) => (
          <p key={line} class="page-note">
            {line}
          </p>
        ))}
      </div>
    </>
  );
};
