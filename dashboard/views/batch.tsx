import { ageDays } from '../../rules/log/batch.js';
import { ACCOUNTS } from '../../rules/log/book.js';
import type { BatchPicture } from '../../rules/wire/log.js';
import { animalsWords } from '../../rules/words/animals.js';
import { dateWords, dayWords } from '../../rules/words/clock.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { stageName } from '../../rules/words/name.js';
import { Page } from '../parts/page.js';
import { StayPicture } from '../parts/stay-picture.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { groupName, LotWords } from './batches.js';
import { Entries } from './day.js';

/** One batch: where it came from, where it has been, what is left of it, what should come next. */
export const Batch = ({ id }: { readonly id: string }) => {
  const room = useRoom();
  const api = useApi();
  const { answer, again } = useAsked(() => api.batch(id), `${id} ${room.picture.value?.sequence ?? 0}`);
  if (answer.value.kind === 'waiting') return <Page here="batch">{null}</Page>;
  if (answer.value.kind === 'refused')
    return (
      <Page here="batch">
        <h1 class="page-title">Batch {id}</h1>
        <p class="page-note">{answer.value.problem.detail}</p>
      </Page>
    );
  const { story, lines } = answer.value.value;
  return (
    <Page here="batch">
      <header class="tank-head">
        <h1>{id}</h1>
        <p>
          {groupName(story.speciesGroup)}, {ageDays(story.beganMs, room.nowMs.value)} days old
        </p>
      </header>
      <Now picture={answer.value.value} />
      <StayPicture story={story} />
      <Papers picture={answer.value.value} />
      <Balance picture={answer.value.value} />
      <h2 class="page-part">Written about it</h2>
      <Entries lines={lines.toReversed()} onChange={again} />
    </Page>
  );
};

const Now = ({ picture: { story, next } }: { picture: BatchPicture }) => {
  const reader = useLogReader();
  if (story.lots.length === 0) return <p class="page-note">None of it is here any more.</p>;
  return (
    <ul class="batch-now">
      {story.lots.map((lot) => {
        const coming = next.find(({ placeId }) => placeId === lot.placeId)?.next;
        return (
          <li key={lot.placeId}>
            <a href={makeRoute({ page: 'tank', id: lot.placeId })}>
              <LotWords lot={lot} />
            </a>
            {coming === undefined ? null : (
              <span class="lot-next">
                {stageName(coming.stage, reader)} expected
                {coming.fromMs === undefined ? null : ` from ${dayWords(coming.fromMs, reader)}`}
                {coming.toMs === undefined ? null : ` to ${dayWords(coming.toMs, reader)}`}, by the profile (
                {coming.standing})
              </span>
            )}
          </li>
        );
      })}
    </ul>
  );
};

const Papers = ({ picture: { story } }: { picture: BatchPicture }) => {
  const reader = useRoom().reader.value;
  const rows: readonly (readonly [string, string])[] = [
    ['Began', dateWords(story.beganMs, reader)],
    ['Origin', story.origin ?? (story.parents.length > 0 ? 'spawned here' : 'not written')],
    ['Permits', story.permits.length === 0 ? 'none written' : story.permits.join(', ')],
  ];
  return (
    <dl class="facts">
      {rows.map(([name, words]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{words}</dd>
        </div>
      ))}
      <Links name="Parents" ids={story.parents} />
      <Links name="Mixed into" ids={story.became} />
    </dl>
  );
};

const Links = ({ name, ids }: { name: string; ids: readonly string[] }) =>
  ids.length === 0 ? null : (
    <div>
      <dt>{name}</dt>
      <dd>
        {ids.map((id) => (
          <a key={id} href={makeRoute({ page: 'batch', id })}>
            {id}{' '}
          </a>
        ))}
      </dd>
    </div>
  );

/** Every animal is somewhere: what came in, where it went, what is left. */
const Balance = ({ picture: { story } }: { picture: BatchPicture }) => {
  const reader = useRoom().reader.value;
  const names = entryNames(reader).account;
  const left = story.lots.reduce((sum, { animals }) => sum + animals, 0);
  const rows = ACCOUNTS.flatMap((account) => {
    const animals = story.accounts[account] ?? 0;
    return animals === 0 ? [] : [[account, animals] as const];
  });
  return (
    <table class="balance">
      <caption>Every animal accounted for</caption>
      <tbody>
        {rows.map(([account, animals]) => (
          <tr key={account}>
            <th scope="row">{names[account]}</th>
            <td>
              {animals > 0 ? '−' : '+'} {animalsWords(Math.abs(animals), reader)}
            </td>
          </tr>
        ))}
        <tr class="balance-left">
          <th scope="row">here now</th>
          <td>{animalsWords(left, reader)}</td>
        </tr>
      </tbody>
    </table>
  );
};
