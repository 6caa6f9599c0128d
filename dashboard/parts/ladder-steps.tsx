import type { LadderRole, Policy } from '../../rules/alerts/policy.js';
import { durationWords } from '../../rules/words/clock.js';
import { capital } from '../../rules/words/name.js';
import { wayName } from '../../rules/words/waking.js';

export const ROLE_WORDS: { readonly [role in LadderRole]: string } = {
  'on-call': 'on call',
  backup: 'behind',
  manager: 'manager',
  everybody: 'everybody',
};

/** One ladder as it is climbed, from the first rung down. */
export const LadderSteps = ({ policy: { steps, loopFromStep, loopEveryMs, stopAfterMs } }: { policy: Policy }) => (
  <ol class="ladder">
    {steps.map(({ afterMs, to, ways }, index) => (
      <li key={afterMs}>
        <span class="ladder-when">{afterMs === 0 ? 'at once' : durationWords(afterMs)}</span>
        <b>{capital(to.map((role) => ROLE_WORDS[role]).join(' and '))}</b>
        <span>
          {ways.map((way) => wayName(way).toLowerCase()).join(', ')}
          {index >= loopFromStep ? '; repeated' : ''}
        </span>
      </li>
    ))}
    <li>
      <span class="ladder-when">then</span>
      <span>
        the repeated steps together every {durationWords(loopEveryMs)}, for {durationWords(stopAfterMs)} in all. The
        room goes on sounding.
      </span>
    </li>
  </ol>
);
