import type { PatternTank, Shared } from '../../rules/review/pattern.js';
import type { Review } from '../../rules/review/review.js';
import { capital } from '../../rules/words/name.js';
import { chanceWords, patternSentence, sharedKindWords, sharedName, sharedWords } from '../../rules/words/review.js';
import { useLogReader } from '../state/places.js';

/** Every line with its tanks, those with deaths marked by shape and word; then what else runs along the same tanks. */
export const ReviewPattern = ({ review: { pattern, tanks } }: { review: Review }) => {
  const reader = useLogReader();
  const kinds = ['line', 'air-main', 'circuit'] as const;
  return (
    <>
      <p class="review-finding">{patternSentence(pattern, reader)}</p>
      {kinds.map((kind) => {
        const own = pattern.supplies.filter((one) => one.kind === kind);
        return own.length === 0 ? null : (
          <section key={kind} class="pattern-kind">
            <h3>{capital(sharedKindWords(kind))}s</h3>
            {own.map((shared) => (
              <SupplyLine key={shared.id} shared={shared} tanks={tanks} />
            ))}
          </section>
        );
      })}
      <Rivals rivals={pattern.rivals} />
    </>
  );
};

const SupplyLine = ({ shared, tanks }: { shared: Shared; tanks: readonly PatternTank[] }) => {
  const reader = useLogReader();
  const chance = chanceWords(shared);
  return (
    <div class="pattern-line">
      <p>
        <b>{sharedName(shared, reader)}</b> {shared.affectedOn} of {shared.of} with deaths
        {chance === undefined ? null : <small> {chance}</small>}
      </p>
      <ul>
        {tanks
          .filter(({ placeId }) => shared.tanks.includes(placeId))
          .map(({ placeId, affected }) => (
            <li key={placeId} class={affected ? 'pattern-tank pattern-dead' : 'pattern-tank'}>
              {reader.placeName(placeId)}
              <small>{affected ? 'deaths' : 'none'}</small>
            </li>
          ))}
      </ul>
    </div>
  );
};

const Rivals = ({ rivals }: { rivals: Review['pattern']['rivals'] }) => {
  const reader = useLogReader();
  if (rivals.length === 0) return <p class="page-note">Nothing else that is written down runs along the same tanks.</p>;
  return (
    <>
      <h3>What else runs along the same tanks</h3>
      <ul class="plain-list">
        {rivals.map((rival) => (
          <li key={`${rival.kind} ${rival.id}`}>
            {capital(sharedKindWords(rival.kind))}: {sharedWords(rival, reader)}
            {rival.asWell ? ': it would explain them as well' : ': it would explain them less well'}
          </li>
        ))}
      </ul>
    </>
  );
};
