import { useSignal } from '@preact/signals';
import type { FaultVerb } from '../../rules/alerts/answer.js';
import { telUrl } from '../../rules/alerts/numbers.js';
import type { FaultPicture, LinkPicture } from '../../rules/wire/waking.js';
import { waking } from '../link/waking.js';
import { Pills } from '../parts/pills.js';
import { type Answer, useAsked } from '../state/asked.js';

/** Where a link of a message leads: whoever holds it answers for one fault without signing in. Opening it answers nothing. */
export const AnswerPage = ({ token }: { readonly token: string }) => {
  const minutes = useSignal('20');
  const said = useSignal<string | undefined>(undefined);
  const sending = useSignal(false);
  const { answer: look, again } = useAsked(() => waking.look(token), token);
  const say = async (verb: FaultVerb, done: string): Promise<void> => {
    sending.value = true;
    const asked = await waking.answerByLink(token, verb, verb === 'going' ? Number(minutes.value) : undefined);
    sending.value = false;
    said.value = asked.ok ? done : asked.fault.detail;
    if (asked.ok) again();
  };
  return (
    <main class="page page-body answer-page">
      <Look look={look.value} />
      <p class="page-note">Going alone at night? Tell someone where, and when you will be back.</p>
      <p class={said.value === undefined ? '' : 'answered'} role="status">
        {said.value}
      </p>
      <Pills
        label="Back word within"
        value={minutes}
        onChoose={(value) => {
          minutes.value = value;
        }}
        choices={[
          ['20', '20 min'],
          ['40', '40 min'],
          ['60', '1 h'],
        ]}
      />
      <button
        type="button"
        class="night-button night-button-first"
        disabled={sending.value}
        onClick={() => void say('going', 'The others know that you are going.')}
      >
        I am going
      </button>
      <button
        type="button"
        class="night-button"
        disabled={sending.value}
        onClick={() => void say('pass-on', 'The next is being asked. It stays with you until they take it.')}
      >
        Pass on
      </button>
      <button
        type="button"
        class="night-button"
        disabled={sending.value}
        onClick={() => void say('there', 'Good. You will be asked again after a while.')}
      >
        I am here
      </button>
      <button
        type="button"
        class="night-button"
        disabled={sending.value}
        onClick={() => void say('safe', 'Good night.')}
      >
        I have left, and I am well
      </button>
      <Calls look={look.value} />
      <p class="page-note">
        <a href="/">Open the room</a>
      </p>
    </main>
  );
};

type LookProps = { readonly look: Answer<LinkPicture> };

/** What is wrong as it stands now, and who has it: the message may be old. */
const Look = ({ look }: LookProps) => {
  if (look.kind === 'waiting') return <h1 class="page-title">Your answer</h1>;
  if (look.kind === 'refused')
    return (
      <>
        <h1 class="page-title">Your answer</h1>
        <p class="page-note">{look.problem.detail}</p>
      </>
    );
  const { place, headline, fault, person } = look.value;
  return (
    <>
      <h1 class="page-title">{headline === '' ? `${place}: nothing is in alarm any more` : headline}</h1>
      <p class="page-note">
        {person}
        {fault === undefined ? ': nobody is being called for it any more.' : `, ${standingOf(fault)}`}
      </p>
    </>
  );
};

const standingOf = ({ standing, by = 'somebody', told }: FaultPicture): string => {
  const others = told.length === 0 ? '' : ` Told: ${told.join(', ')}.`;
  const words: { readonly [kind in FaultPicture['standing']]: string } = {
    climbing: 'nobody has answered yet.',
    acknowledged: `${by} has seen it.`,
    going: `${by} is going.`,
    passing: `${by} passed it on.`,
    there: `${by} is there.`,
    ended: 'nobody is being called for it any more.',
    'nobody-called': 'nobody is called for it.',
  };
  return `${words[standing]}${others}`;
};

const Calls = ({ look }: LookProps) =>
  look.kind !== 'here' ? null : (
    <>
      {look.value.numbers.slice(0, 3).map(({ name, phone }) => (
        <a key={`${name} ${phone}`} class="night-button" href={telUrl(phone)}>
          Call {name}
        </a>
      ))}
    </>
  );
