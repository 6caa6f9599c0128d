import type { Performance } from '../../rules/alerts/performance.js';
import { alarmTagWords } from '../../rules/words/alarm-tag.js';
import { durationWords } from '../../rules/words/clock.js';
import { fixedWords, roughWords } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { waking } from '../link/waking.js';
import { Page } from '../parts/page.js';
import { useAsked } from '../state/asked.js';
import { placeNamed, useRoom } from '../state/room.js';

/** One figure beside what is aimed for; `well` where that can be said. */
type Line = { readonly name: string; readonly figure: string; readonly aim: string; readonly well?: boolean };

const percent = (value: number, reader: Reader): string => `${roughWords(value, reader)} %`;

const linesOf = (figures: Performance, reader: Reader): readonly Line[] => {
  const { per10Min, perDay, mostInSliding10Min, share10MinOver10, shareInFlood, fleeting, neverAcknowledged } = figures;
  const { toAcknowledgeMs, shareAcknowledgedIn10Min, asides, unauthorisedAsides } = figures;
  return [
    { name: 'Alarms a day', figure: roughWords(perDay, reader), aim: '150 at most, 300 at worst', well: perDay <= 150 },
    {
      name: 'In ten minutes, on average',
      figure: fixedWords(per10Min, 2, reader),
      aim: '1 at most',
      well: per10Min <= 1,
    },
    {
      name: 'Most in any ten minutes',
      figure: String(mostInSliding10Min),
      aim: '10 at most',
      well: mostInSliding10Min <= 10,
    },
    {
      name: 'Ten minutes with more than ten',
      figure: percent(share10MinOver10, reader),
      aim: 'below 1 %',
      well: share10MinOver10 < 1,
    },
    { name: 'Time in a flood', figure: percent(shareInFlood, reader), aim: 'below 1 %', well: shareInFlood < 1 },
    { name: 'Too short to act on', figure: String(fleeting), aim: 'none', well: fleeting === 0 },
    {
      name: 'Answered within ten minutes',
      figure: percent(shareAcknowledgedIn10Min, reader),
      aim: 'as many as can be',
    },
    ...(toAcknowledgeMs === undefined
      ? []
      : [
          {
            name: 'Time to the answer, half of them within',
            figure: durationWords(toAcknowledgeMs.median),
            aim: `nine of ten within ${durationWords(toAcknowledgeMs.p90)}`,
          },
        ]),
    {
      name: 'Put aside without a reason, a name or an end',
      figure: `${unauthorisedAsides} of ${asides}`,
      aim: 'none',
      well: unauthorisedAsides === 0,
    },
    { name: 'Never answered', figure: String(neverAcknowledged), aim: 'none', well: neverAcknowledged === 0 },
  ];
};

/** How the alarms behave, after ISA-18.2 and EEMUA 191: for who manages them, not for the wall. */
export const Figures = () => {
  const { value } = useAsked(waking.alarmFigures, 'figures').answer;
  return (
    <Page here="figures">
      <h1 class="page-title">How the alarms behave</h1>
      <p class="page-note">
        The last 30 days, by terms and aims of <span translate={false}>ISA-18.2</span> and EEMUA 191 as commonly quoted.
        An aim that is missed asks for a look at limits and probes, not at people.
      </p>
      {value.kind === 'refused' ? <p class="page-note">{value.problem.detail}</p> : null}
      {value.kind === 'here' ? <Table figures={value.value} /> : null}
    </Page>
  );
};

const useNames = () => {
  const room = useRoom();
  return (id: string): string => placeNamed(room, id)?.name ?? id;
};

const Table = ({ figures }: { readonly figures: Performance }) => {
  const { alarms, byPriority } = figures;
  const reader = useRoom().reader.value;
  const share = (count: number): string => (alarms === 0 ? '0 %' : percent((100 * count) / alarms, reader));
  return (
    <>
      <table class="balance papers-table figures">
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Was</th>
            <th scope="col">Aim</th>
          </tr>
        </thead>
        <tbody>
          {linesOf(figures, reader).map(({ name, figure, aim, well }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td class={well === false ? 'said-alarm' : undefined}>
                <b>{figure}</b>
                {well === false ? ' (missed)' : ''}
              </td>
              <td>{aim}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">High, medium, low</th>
            <td>
              <b>
                {share(byPriority.high)}, {share(byPriority.medium)}, {share(byPriority.low)}
              </b>
            </td>
            <td>about 5, 15, 80 %</td>
          </tr>
        </tbody>
      </table>
      <Tags title="Chattering: three times within a minute" none="None." tags={figures.chattering} />
      <Tags title="True for more than a day: fewer than five at a time" none="None." tags={figures.staleOver24H} />
      <h2 class="page-part">Most frequent</h2>
      <Frequent figures={figures} />
    </>
  );
};

const Tags = ({ title, none, tags }: { title: string; none: string; tags: readonly string[] }) => {
  const nameOf = useNames();
  return (
    <>
      <h2 class="page-part">{title}</h2>
      {tags.length === 0 ? <p class="page-note">{none}</p> : null}
      <ul class="plain-list">
        {tags.map((tag) => (
          <li key={tag}>{alarmTagWords(tag, nameOf)}</li>
        ))}
      </ul>
    </>
  );
};

const Frequent = ({ figures: { mostFrequent, topTenShare, alarms } }: { readonly figures: Performance }) => {
  const nameOf = useNames();
  const reader = useRoom().reader.value;
  if (alarms === 0) return <p class="page-note">No alarm in these days.</p>;
  return (
    <>
      <p class="page-note">
        The ten most frequent are {percent(topTenShare, reader)} of all. With few alarms that says little; look at the
        first.
      </p>
      <ol class="plain-list">
        {mostFrequent.slice(0, 10).map(({ tag, count }) => (
          <li key={tag}>
            <b>{count}</b> {alarmTagWords(tag, nameOf)}
          </li>
        ))}
      </ol>
    </>
  );
};
