import type { Season } from '../../rules/alerts/season.js';
import { forecastRecordWords } from '../../rules/words/forecast.js';
import { waking } from '../link/waking.js';
import { MissedHarm } from '../parts/missed-harm.js';
import { Page } from '../parts/page.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayAnswer, mayChange, session } from '../state/session.js';

const times = (count: number): string => (count === 1 ? 'once' : `${count} times`);

const sentence = ({ woken, real, notReal, missed }: Season): string => {
  const misses = missed === 0 ? 'none missed' : `${missed} missed`;
  return woken === 0 ? `Nobody was woken, ${misses}` : `Woken ${times(woken)}: ${real} real, ${notReal} not, ${misses}`;
};

/** Woken 6 times, 6 real, none missed: the figure that the program is to be judged by. */
export const SeasonPage = () => {
  const { answer, again } = useAsked(waking.season, 'season');
  const season = answer.value;
  const forecasts = useAsked(useApi().forecasts, 'forecasts').answer.value;
  const reader = useRoom().reader.value;
  return (
    <Page here="season">
      <h1 class="page-title">{season.kind === 'here' ? sentence(season.value) : 'The season'}</h1>
      {season.kind === 'here' && season.value.open.length > 0 ? (
        <p class="page-note">
          {season.value.open.length} still to be judged, on{' '}
          <a href={makeRoute({ page: 'morning' })}>the morning they came</a>.
        </p>
      ) : null}
      {forecasts.kind === 'here' ? (
        <p class="page-note">{forecastRecordWords(forecasts.value.record, reader)}</p>
      ) : null}
      {mayAnswer(session.value) ? <MissedHarm done={again} /> : null}
      {mayChange(session.value) ? (
        <p class="page-note">
          <a href={makeRoute({ page: 'figures' })}>How the alarms themselves behave</a>
        </p>
      ) : null}
    </Page>
  );
};
