import type { Season } from '../../rules/alerts/season.js';
import { forecastRecordWords } from '../../rules/words/forecast.js';
import { waking } from '../link/waking.js';
import { Page } from '../parts/page.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';

const times = (count: number): string => (count === 1 ? 'once' : `${count} times`);

const sentence = ({ woken, real, notReal, missed }: Season): string => {
  const misses = missed === 0 ? 'none missed' : `${missed} missed`;
  return woken === 0 ? `Nobody was woken, ${misses}` : `Woken ${times(woken)}: ${real} real, ${notReal} not, ${misses}`;
};

/** Woken 6 times, 6 real, none missed: the figure that the program is to be judged by. For managers, how the alarms behave. */
export const SeasonPage = () => {
  const season = useAsked(waking.season, 'season').answer.value;
  const figures = useAsked(waking.alarmFigures, 'figures').answer.value;
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
      {figures.kind === 'here' ? (
        <dl class="papers">
          <dt>Alarms in 30 days</dt>
          <dd>{figures.value.alarms}</dd>
          <dt>Answered within 10 minutes</dt>
          <dd>{Math.round(figures.value.shareAcknowledgedIn10Min)} %</dd>
          <dt>Chattering</dt>
          <dd>{figures.value.chattering.length === 0 ? 'none' : figures.value.chattering.join(', ')}</dd>
          <dt>True for more than a day</dt>
          <dd>{figures.value.staleOver24H.length === 0 ? 'none' : figures.value.staleOver24H.join(', ')}</dd>
          <dt>Most in ten minutes</dt>
          <dd>{figures.value.mostInSliding10Min}</dd>
        </dl>
      ) : null}
    </Page>
  );
};
