import { useSignal } from '@preact/signals';
import type { Versioned } from '../../rules/wire/api.js';
import type { Button } from '../../rules/wire/log.js';
import { dateWords, durationWords } from '../../rules/words/clock.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital, namesFor } from '../../rules/words/name.js';
import { channelName } from '../../rules/words/review.js';
import { ButtonEditor } from '../parts/button-editor.js';
import { LifeLine, Page } from '../parts/page.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { mayChange, session } from '../state/session.js';

const MINUTE_MS = 60_000;

/** Push buttons on boards: which contact writes what into the log, since when. */
export const Buttons = () => {
  const api = useApi();
  const isAdding = useSignal(false);
  const { answer, again } = useAsked(() => api.buttons(), 'buttons');
  const buttons = answer.value.kind === 'here' ? answer.value.value : [];
  const may = mayChange(session.value);
  const done = (): void => {
    isAdding.value = false;
    again();
  };
  return (
    <Page here="buttons">
      <h1 class="page-title">Buttons</h1>
      <p class="page-note">
        A push button wired to a board’s contact writes into the log when it is pressed, for hands that are wet. A
        button that declares work ends it when it is pressed again.
      </p>
      {answer.value.kind === 'refused' ? <p class="page-note">{answer.value.problem.detail}</p> : null}
      {answer.value.kind === 'here' && buttons.length === 0 ? <p class="page-note">No button is set up yet.</p> : null}
      <ol class="places">
        {buttons.map((button) => (
          <Line key={`${button.body.id} ${button.version}`} button={button} may={may} onChange={again} />
        ))}
      </ol>
      {may ? null : <p class="page-note">A manager can set up buttons.</p>}
      {may && !isAdding.value ? (
        <button type="button" class="night-button" onClick={() => (isAdding.value = true)}>
          Set up a button
        </button>
      ) : null}
      {isAdding.value ? <ButtonEditor onDone={done} /> : null}
      <LifeLine />
    </Page>
  );
};

type LineProps = { readonly button: Versioned<Button>; readonly may: boolean; readonly onChange: () => void };

const Line = ({ button, may, onChange }: LineProps) => {
  const reader = useLogReader();
  const isOpen = useSignal(false);
  const { id, channelId, pressed, does } = button.body;
  return (
    <li>
      <p class="place-words">
        <b>{id}</b>{' '}
        <span>
          {channelName(channelId, reader)} going {pressed}: {deedWords(does, reader)}. Since{' '}
          {dateWords(button.effectiveMs, reader)}.
        </span>
        {may ? (
          <button
            type="button"
            class="plain edit-word"
            aria-expanded={isOpen.value}
            onClick={() => (isOpen.value = !isOpen.value)}
          >
            {isOpen.value ? 'Close' : 'Change'}
            <span class="for-voice"> {id}</span>
          </button>
        ) : null}
      </p>
      {isOpen.value ? <ButtonEditor button={button} onDone={onChange} /> : null}
    </li>
  );
};

const deedWords = (does: Button['does'], reader: ReturnType<typeof useLogReader>): string => {
  const where = does.placeId === undefined ? '' : `, ${reader.placeName(does.placeId)}`;
  if (does.kind === 'entry') return `writes “${capital(entryNames(reader).kind[does.entry])}”${where}`;
  const length = durationWords(does.minutes * MINUTE_MS, reader);
  return `declares “${namesFor(reader).work[does.work]}”${where}, ${length}`;
};
