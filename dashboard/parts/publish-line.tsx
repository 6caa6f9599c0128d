import { useSignal } from '@preact/signals';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';

/** The complete line that sends one reading here, to paste into a terminal. */
export const PublishLine = () => {
  const api = useApi();
  const { answer } = useAsked(() => api.recipe(), 'recipe');
  if (answer.value.kind === 'waiting') return null;
  if (answer.value.kind === 'refused') return <p class="page-note">{answer.value.problem.detail}</p>;
  const { publishLine, host, port, user, remark } = answer.value.value;
  return (
    <section class="publish">
      <p class="page-note">
        Point a board at <b translate={false}>{host}</b>, port <b>{port}</b>
        {user === undefined ? '' : `, as ${user}`}. To try it, paste this into a terminal; the reading appears below.{' '}
        {remark}
      </p>
      <LineToPaste line={publishLine} />
    </section>
  );
};

/** A line for a terminal, and a word that copies it. */
export const LineToPaste = ({ line }: { readonly line: string }) => {
  const copied = useSignal(false);
  const copy = (): void => {
    void navigator.clipboard?.writeText(line).then(() => {
      copied.value = true;
    });
  };
  return (
    <>
      <code class="publish-line">{line}</code>
      <button type="button" class="plain publish-copy" onClick={copy}>
        {copied.value ? 'Copied' : 'Copy the line'}
      </button>
    </>
  );
};
