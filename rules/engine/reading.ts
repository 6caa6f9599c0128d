import { FLAG } from '../quality/flag.js';
import {
  defaultQualitySettings,
  type Judgement,
  judgeReading,
  type QualitySettings,
  type Revision,
} from '../quality/judge.js';
import { defaultWaterSettings, stepWater, type WaterState, waterFlag } from '../quality/out-of-water.js';
import { flagsFromVerdict, UNJUDGED } from '../quality/packed.js';
import { settingsIn, workPhase } from '../quality/settle.js';
import { type Verdict, withTest } from '../quality/verdict.js';
import { canonicalFrom } from '../quantity.js';
import { type AcceptedTime, acceptTime } from '../time/accept.js';
import { channelAfter, withoutSince } from './channel-after.js';
import { computeFrom } from './computed.js';
import { at, type Draft, planOf } from './draft.js';
import type { Happening } from './happening.js';
import { judgeChannel } from './judging.js';
import { learnPeriod } from './period.js';
import type { ProbePlan } from './plan.js';
import { IN_WATER, isOutOfWater, showChannel } from './shown.js';
import type { ProbeNow } from './state.js';

type Reading = Extract<Happening, { kind: 'reading' }>;

const keep = (draft: Draft, reading: Reading, deviceMs: number, flags: number, refusedMs: number | undefined): void => {
  const { sourceId, atMs: arrivalMs, raw } = reading;
  draft.effects.push({
    do: 'keep',
    sourceId,
    deviceMs,
    arrivalMs,
    raw,
    flags,
    ...(refusedMs === undefined ? {} : { refusedMs }),
  });
};

/** Salinity falling to nothing is the sign of a probe head in air: every probe of the place with it. */
const stepPlaceWater = (draft: Draft, place: number, atMs: number, salinity: number): void => {
  const now = at(draft.places, place);
  const { memory, state, changedAtMs } = stepWater(now.water, { atMs, salinity }, defaultWaterSettings);
  const { dryMs: _, ...rest } = now;
  const dryMs = state === 'dry' ? (now.dryMs ?? changedAtMs ?? atMs) : undefined;
  draft.places[place] = { ...rest, water: memory, wet: state, ...(dryMs === undefined ? {} : { dryMs }) };
  if ((state === 'dry') === (now.wet === 'dry')) return;
  for (const index of at(planOf(draft).places, place).channels) {
    if (!IN_WATER.has(at(planOf(draft).channels, index).quantity)) continue;
    if (dryMs !== undefined) forgetAir(draft, index, dryMs);
    showChannel(draft, index, atMs);
  }
};

/** What was read between leaving the water and being sure of it: no part of the water's record, however slow the probe. */
const forgetAir = (draft: Draft, index: number, dryMs: number): void => {
  draft.channels[index] = withoutSince(at(draft.channels, index), dryMs);
};

const noteWater = (draft: Draft, channels: readonly number[], place: number, atMs: number, noWater: boolean): void => {
  if (noWater) return stepPlaceWater(draft, place, atMs, 0);
  for (const channel of channels) {
    const { value } = at(draft.channels, channel);
    if (at(planOf(draft).channels, channel).quantity === 'salinity' && value !== undefined)
      stepPlaceWater(draft, place, atMs, value);
  }
};

const ruleChannel = (
  draft: Draft,
  plan: ProbePlan,
  periodMs: number | undefined,
  reading: Reading,
  atMs: number,
  value: number,
  verdict: Verdict,
  fresh: boolean,
): void => {
  const { channel } = plan;
  const bad = verdict.bad !== undefined;
  const heardMs = fresh ? reading.atMs : undefined;
  const isOut = isOutOfWater(draft, channel);
  draft.channels[channel] = channelAfter(at(draft.channels, channel), { atMs, value, bad, periodMs, heardMs, isOut });
  const computed = bad ? undefined : computeFrom(draft, channel, atMs, heardMs);
  const channels = [channel, ...(computed?.channels ?? [])];
  if (!bad) noteWater(draft, channels, at(planOf(draft).channels, channel).place, atMs, computed?.noWater === true);
  for (const index of channels) {
    if (fresh) judgeChannel(draft, index, atMs, reading.atMs);
    showChannel(draft, index, atMs);
  }
};

const probeAfter = (
  probe: ProbeNow,
  reading: Reading,
  atMs: number,
  quality: ProbeNow['quality'],
  refusedMs: number | undefined,
): ProbeNow => {
  const { intervals, periodMs } = learnPeriod(probe, atMs);
  const clockWrongMs = refusedMs === undefined ? undefined : (probe.clockWrongMs ?? reading.atMs);
  return { newestMs: atMs, newestRaw: reading.raw, quality, periodMs, intervals, clockWrongMs };
};

const settingsOf = (draft: Draft, plan: ProbePlan, probe: ProbeNow, atMs: number): QualitySettings => {
  const { periodMs } = probe;
  const settings =
    plan.periodMs !== undefined || periodMs === undefined
      ? plan.quality
      : defaultQualitySettings(plan.quantity, periodMs);
  const { work } = draft.state;
  if (work.length === 0) return settings;
  const { id } = at(planOf(draft).places, at(planOf(draft).channels, plan.channel).place).place;
  return settingsIn(
    workPhase(
      work.find(({ placeId }) => placeId === id),
      atMs,
    ),
    settings,
  );
};

type Judged = Judgement & { readonly value: number };

const judge = (
  draft: Draft,
  plan: ProbePlan,
  probe: ProbeNow,
  { atMs, refusedMs }: AcceptedTime,
  raw: number,
): Judged | undefined => {
  const converted = canonicalFrom(plan.quantity, plan.unit, raw);
  if (converted === undefined) return undefined;
  const value = plan.slope * converted + plan.offset;
  const reading = { atMs, value, uncorrected: converted, stampRefused: refusedMs !== undefined };
  return { ...judgeReading(probe.quality, reading, settingsOf(draft, plan, probe, atMs)), value };
};

const reviseBefore = (draft: Draft, sourceId: number, revision: Revision | undefined, water: WaterState): void => {
  // A spike that passed tells nothing new; any other verdict is worth its row.
  if (revision === undefined || revision.verdict.by.spike === FLAG.pass) return;
  draft.effects.push({ do: 'revise', sourceId, deviceMs: revision.atMs, flags: packed(revision.verdict, water) });
};

/** One reading: its time, its quality, its channel and what is computed from it, then the conditions that listen. */
export const takeReading = (draft: Draft, reading: Reading): void => {
  const { sourceId, atMs: arrivalMs, raw } = reading;
  const index = planOf(draft).probeOf.get(sourceId);
  const probe = index === undefined ? undefined : draft.probes[index];
  const plan = index === undefined ? undefined : planOf(draft).probes[index];
  const accepted = acceptTime(arrivalMs, reading.deviceMs, plan?.periodMs ?? probe?.periodMs);
  const { atMs, refusedMs } = accepted;
  if (index === undefined || probe === undefined || plan === undefined)
    return keep(draft, reading, atMs, UNJUDGED, refusedMs);
  const judged = judge(draft, plan, probe, accepted, raw);
  if (judged === undefined) return keep(draft, reading, atMs, UNJUDGED, refusedMs);
  // Older than the newest, or its moment once more: history only, judged by itself.
  const isHistory = probe.newestMs !== undefined && atMs <= probe.newestMs;
  if (!isHistory) {
    draft.probes[index] = probeAfter(probe, reading, atMs, judged.memory, refusedMs);
    draft.state = { ...draft.state, lastReadingMs: arrivalMs };
    const fresh = accepted.fresh && reading.retained !== true;
    if (plan.ruling)
      ruleChannel(
        draft,
        plan,
        plan.periodMs ?? draft.probes[index]?.periodMs,
        reading,
        atMs,
        judged.value,
        judged.verdict,
        fresh,
      );
  }
  const water = isHistory ? 'unknown' : waterAt(draft, plan);
  keep(draft, reading, atMs, packed(judged.verdict, water), refusedMs);
  reviseBefore(draft, sourceId, judged.revision, water);
};

const waterAt = (draft: Draft, plan: ProbePlan): WaterState =>
  IN_WATER.has(plan.quantity) ? at(draft.places, at(planOf(draft).channels, plan.channel).place).wet : 'unknown';

const packed = (verdict: Verdict, water: WaterState): number =>
  flagsFromVerdict(withTest(verdict, 'multivariate', waterFlag[water]));
