import { useSignal } from '@preact/signals';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';

/** The complete line that sends one reading here, to paste into a terminal. */
export const PublishLine = () => {
  const api = useApi();
  const copied = useSignal(false);
  const { answer } = useAsked(() => api.recipe(), 'recipe');
  if (answer.value.kind === 'waiting') return null;
  if (answer.value.kind === 'refused') return <p class="page-note">{answer.value.problem.detail}</p>;
  const { publishLine, host, port, user, remark } = answer.value.value;
  const copy = (): void => {
    void navigator.clipboard?.writeText(publishLine).then(() => {
      copied.value = true;
    });
  };
  return (
    <section class="publish">
      <p class="page-note">
        Point a board at <b>{host}</b>, port <b>{port}</b>
        {user === undefined ? '' : `, as ${user}`}. To try it, paste this into a terminal; the reading appears below.{' '}
        {remark}
      </p>
      <code class="publish-line">{publishLine}</code>
      <button type="button" class="plain publish-copy" onClick={copy}>
        {copied.value ? 'Copied' : 'Copy the line'}
      </button>
    </section>
  );
};
