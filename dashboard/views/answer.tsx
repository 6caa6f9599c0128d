import { useSignal } from '@preact/signals';
import type { FaultVerb } from '../../rules/alerts/answer.js';
import { waking } from '../link/waking.js';
import { Pills } from '../parts/pills.js';

/** Where a link of a message leads: whoever holds it answers for one fault without signing in. Opening it answers nothing. */
export const AnswerPage = ({ token }: { readonly token: string }) => {
  const minutes = useSignal('20');
  const said = useSignal<string | undefined>(undefined);
  const sending = useSignal(false);
  const say = async (verb: FaultVerb, done: string): Promise<void> => {
    sending.value = true;
    const asked = await waking.answerByLink(token, verb, verb === 'going' ? Number(minutes.value) : undefined);
    sending.value = false;
    said.value = asked.ok ? done : asked.fault.detail;
  };
  return (
    <main class="page page-body answer-page">
      <h1 class="page-title">Your answer</h1>
      <p class="page-note">
        The message said what is wrong. Going alone at night? Tell someone where, and when you will be back.
      </p>
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
      <p class="page-note">
        <a href="/">Open the room</a>
      </p>
    </main>
  );
};
