import { type Signal, signal, useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Site } from '../../rules/hatchery.js';
import type { Versioned } from '../../rules/wire/api.js';
import { Field } from '../parts/field.js';
import { Page } from '../parts/page.js';
import { Pills } from '../parts/pills.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import type { FormFault } from '../state/place-form.js';
import { mayChange, session } from '../state/session.js';
import { type SiteTexts, siteOfTexts, siteTexts } from '../state/site-form.js';

/** The site: how times and degrees are shown, and how long what was read is kept. */
export const SitePage = () => {
  const api = useApi();
  const { answer, again } = useAsked(() => api.site(), 'site');
  const isKept = useSignal(false);
  const kept = (): void => {
    isKept.value = true;
    again();
  };
  return (
    <Page here="site">
      <h1 class="page-title">The site</h1>
      <p class="form-said" role="status">
        {isKept.value ? 'Kept. Every page and message says it so from now on.' : null}
      </p>
      {answer.value.kind === 'refused' ? <p class="page-note">{answer.value.problem.detail}</p> : null}
      {answer.value.kind !== 'here' ? null : mayChange(session.value) ? (
        <Form key={answer.value.value.site.version} site={answer.value.value.site} onKept={kept} />
      ) : (
        <p class="page-note">
          A manager can change name, time zone, degrees, how numbers are written, and how long readings are kept.
        </p>
      )}
    </Page>
  );
};

type Texts = { readonly [field in keyof SiteTexts]: Signal<string> };
const signalsOf = (texts: SiteTexts): Texts => ({
  name: signal(texts.name),
  zone: signal(texts.zone),
  temperatureUnit: signal(texts.temperatureUnit),
  hours: signal(texts.hours),
  decimalMark: signal(texts.decimalMark),
  altitudeM: signal(texts.altitudeM),
  keepReadingsDays: signal(texts.keepReadingsDays),
  keepHoursDays: signal(texts.keepHoursDays),
});
const typedIn = (texts: Texts): SiteTexts => ({
  name: texts.name.value,
  zone: texts.zone.value,
  temperatureUnit: texts.temperatureUnit.value,
  hours: texts.hours.value,
  decimalMark: texts.decimalMark.value,
  altitudeM: texts.altitudeM.value,
  keepReadingsDays: texts.keepReadingsDays.value,
  keepHoursDays: texts.keepHoursDays.value,
});

const Form = ({ site, onKept }: { readonly site: Versioned<Site>; readonly onKept: () => void }) => {
  const api = useApi();
  const texts = useMemo(() => signalsOf(siteTexts(site.body)), []);
  const faults = useSignal<readonly FormFault[]>([]);
  const said = useSignal<string | undefined>(undefined);
  const save = async (event: Event): Promise<void> => {
    event.preventDefault();
    const made = siteOfTexts(site.body, typedIn(texts));
    faults.value = 'site' in made ? [] : made;
    if (!('site' in made)) return;
    const asked = await api.changeSite(made.site, site.version);
    if (asked.ok) return onKept();
    faults.value = (asked.fault.faults ?? []).map(({ pointer, detail }) => ({ field: pointer.slice(1), detail }));
    said.value =
      asked.fault.status === 412
        ? 'Somebody changed the site while you were writing. Nothing of yours was kept: open this page again.'
        : asked.fault.detail;
  };
  const fault = (field: string) => {
    const found = faults.value.find((one) => one.field === field);
    return found === undefined ? {} : { fault: found.detail };
  };
  return (
    <form class="place-form" onSubmit={(event) => void save(event)}>
      <div class="form-grid">
        <Field label="Name" value={texts.name} {...fault('name')} />
        <Field label="Time zone" hint="By name: Europe/Lisbon." value={texts.zone} {...fault('zone')} />
        <Field label="Height over the sea" value={texts.altitudeM} type="number" unit="m" {...fault('altitudeM')} />
      </div>
      <Pills
        label="Temperatures in"
        value={texts.temperatureUnit}
        choices={[
          ['C', '°C'],
          ['F', '°F'],
        ]}
        onChoose={(value) => (texts.temperatureUnit.value = value)}
      />
      <Pills
        label="The clock"
        value={texts.hours}
        choices={[
          ['24', '24 hours'],
          ['12', '12 hours'],
        ]}
        onChoose={(value) => (texts.hours.value = value)}
      />
      <Pills
        label="Between whole and part of a number"
        value={texts.decimalMark}
        choices={[
          ['point', 'a point'],
          ['comma', 'a comma'],
        ]}
        onChoose={(value) => (texts.decimalMark.value = value)}
      />
      <h2 class="page-part">How long it is kept</h2>
      <p class="page-note">
        Readings make reviews and exports exact; hours keep least, mean and most. What was dropped does not come back:
        make a backup first. The log is always kept.
      </p>
      <div class="form-grid">
        <Field
          label="Every reading"
          hint="Empty: 400 days."
          value={texts.keepReadingsDays}
          type="number"
          unit="days"
          {...fault('keepReadingsDays')}
        />
        <Field
          label="Every hour"
          hint="Empty: for ever."
          value={texts.keepHoursDays}
          type="number"
          unit="days"
          {...fault('keepHoursDays')}
        />
      </div>
      <p class="form-said" role="status">
        {said.value}
      </p>
      <button type="submit" class="night-button night-button-first">
        Keep the change
      </button>
    </form>
  );
};
