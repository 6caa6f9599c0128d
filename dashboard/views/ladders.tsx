import { useSignal } from '@preact/signals';
import { DEFAULT_POLICIES, type Hour, type Policies } from '../../rules/alerts/policy.js';
import type { Priority } from '../../rules/conditions/finding.js';
import type { Versioned } from '../../rules/wire/api.js';
import { waking } from '../link/waking.js';
import { LadderForm } from '../parts/ladder-form.js';
import { LadderSteps } from '../parts/ladder-steps.js';
import { Page } from '../parts/page.js';
import { Pills } from '../parts/pills.js';
import { useAsked } from '../state/asked.js';
import { mayChange, session } from '../state/session.js';

const HOURS = [
  ['night', 'Night, or nobody on site'],
  ['day', 'Day'],
] as const;
const PRIORITIES = [
  ['high', 'High'],
  ['medium', 'Medium'],
  ['low', 'Low'],
] as const;

/** Who is called when, by priority and hour. One fault climbs one ladder. */
export const Ladders = () => {
  const { answer, again } = useAsked(waking.ladders, 'ladders');
  const { value } = answer;
  return (
    <Page here="ladders">
      <h1 class="page-title">Ladders</h1>
      <p class="page-note">
        A fault climbs until somebody answers. A step that reaches nobody does not wait: the next one goes at once. By
        day the wall and the room speak first, while somebody is on site.
      </p>
      {value.kind === 'refused' ? <p class="page-note">{value.problem.detail}</p> : null}
      {value.kind === 'here' ? <All key={value.value.version} row={value.value} again={again} /> : null}
    </Page>
  );
};

const hour = (text: string): Hour => (text === 'day' ? 'day' : 'night');
const priority = (text: string): Priority => (text === 'high' || text === 'medium' ? text : 'low');

const All = ({ row, again }: { readonly row: Versioned<Policies>; readonly again: () => void }) => {
  const at = useSignal<string>('night');
  const how = useSignal<string>('high');
  const said = useSignal<string | undefined>(undefined);
  const policy = row.body[hour(at.value)][priority(how.value)];
  const save = async (next: Policies[Hour][Priority]): Promise<void> => {
    const { [priority(how.value)]: _, ...others } = row.body[hour(at.value)];
    const ladders = next === undefined ? others : { ...others, [priority(how.value)]: next };
    const asked = await waking.putLadders({ ...row.body, [hour(at.value)]: ladders }, row.version);
    said.value = asked.ok ? undefined : asked.fault.detail;
    if (asked.ok) again();
  };
  const start = DEFAULT_POLICIES[hour(at.value)][priority(how.value)] ?? DEFAULT_POLICIES.day.medium;
  return (
    <>
      <Pills label="When" value={at} choices={HOURS} onChoose={(value) => (at.value = value)} />
      <Pills label="Priority" value={how} choices={PRIORITIES} onChoose={(value) => (how.value = value)} />
      <p class="form-said said-alarm" role="alert">
        {said.value}
      </p>
      {policy === undefined ? (
        <p class="page-note">Nobody is called for this: it stands on the list until the next round.</p>
      ) : (
        <LadderSteps policy={policy} />
      )}
      {mayChange(session.value) ? (
        <LadderForm key={`${at.value} ${how.value}`} policy={policy} start={start} save={(next) => void save(next)} />
      ) : null}
    </>
  );
};
