import { FLAG } from '../quality/flag.js';
import { defaultQualitySettings, judgePacked, type PackedJudgement, type QualitySettings } from '../quality/judge.js';
import { defaultWaterSettings, stepWater, type WaterState, waterFlag } from '../quality/out-of-water.js';
import { badIn, flagsWithTest, testIn, UNJUDGED } from '../quality/packed.js';
import { settingsIn, workPhase } from '../quality/settle.js';
import { converted } from '../quantity.js';
import { type AcceptedTime, acceptTime } from '../time/accept.js';
import { type Behind, isOf, stepBehind } from '../time/behind.js';
import { channelAfter, withoutSince } from './channel-after.js';
import { type Computed, computeFrom, NOTHING_COMPUTED } from './computed.js';
import { at, type Draft, planOf } from './draft.js';
import type { Happening } from './happening.js';
import { judgeChannel } from './judging.js';
import { learnPeriod } from './period.js';
import type { ProbePlan } from './plan.js';
import { isOutOfWater, showChannel } from './shown.js';
import type { ProbeNow } from './state.js';

type Reading = Extract<Happening, { kind: 'reading' }>;

const keep = (draft: Draft, reading: Reading, deviceMs: number, flags: number, refusedMs: number | undefined): void => {
  const { sourceId, atMs: arrivalMs, raw } = reading;
  draft.effects.push(
    refusedMs === undefined
      ? { do: 'keep', sourceId, deviceMs, arrivalMs, raw, flags }
      : { do: 'keep', sourceId, deviceMs, arrivalMs, raw, flags, refusedMs },
  );
};

/** Salinity falling to nothing is the sign of a probe head in air: every probe of the place with it. */
const stepPlaceWater = (draft: Draft, place: number, atMs: number, salinity: number): void => {
  const now = at(draft.places, place);
  const { memory, state, changedAtMs } = stepWater(now.water, { atMs, salinity }, defaultWaterSettings);
  const dryMs = state === 'dry' ? (now.dryMs ?? changedAtMs ?? atMs) : undefined;
  draft.places[place] = { ...now, water: memory, wet: state, dryMs };
  if ((state === 'dry') === (now.wet === 'dry')) return;
  for (const index of at(planOf(draft).places, place).channels) {
    if (!at(planOf(draft).channels, index).inWater) continue;
    if (dryMs !== undefined) forgetAir(draft, index, dryMs);
    showChannel(draft, index, atMs);
  }
};

/** What was read between leaving the water and being sure of it: no part of the water's record, however slow the probe. */
const forgetAir = (draft: Draft, index: number, dryMs: number): void => {
  draft.channels[index] = withoutSince(at(draft.channels, index), dryMs);
};

const noteSalinity = (draft: Draft, channel: number, atMs: number): void => {
  const { quantity, place } = at(planOf(draft).channels, channel);
  const { value } = at(draft.channels, channel);
  if (quantity === 'salinity' && value !== undefined) stepPlaceWater(draft, place, atMs, value);
};

const noteWater = (draft: Draft, channel: number, { channels, noWater }: Computed, atMs: number): void => {
  if (noWater) return stepPlaceWater(draft, at(planOf(draft).channels, channel).place, atMs, 0);
  noteSalinity(draft, channel, atMs);
  for (const computed of channels) noteSalinity(draft, computed, atMs);
};

const ruleChannel = (
  draft: Draft,
  plan: ProbePlan,
  periodMs: number | undefined,
  reading: Reading,
  atMs: number,
  value: number,
  bad: boolean,
  fresh: boolean,
): void => {
  const { channel } = plan;
  const heardMs = fresh ? reading.atMs : undefined;
  const isOut = isOutOfWater(draft, channel);
  draft.channels[channel] = channelAfter(at(draft.channels, channel), { atMs, value, bad, periodMs, heardMs, isOut });
  const computed = bad ? NOTHING_COMPUTED : computeFrom(draft, channel, atMs, heardMs);
  if (!bad) noteWater(draft, channel, computed, atMs);
  if (fresh) judgeChannel(draft, channel, atMs, reading.atMs);
  showChannel(draft, channel, atMs);
  for (const index of computed.channels) {
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
  behind: Behind | undefined,
): ProbeNow => {
  const { intervals, periodMs } = learnPeriod(probe, atMs);
  const clockWrongMs = refusedMs === undefined ? undefined : (probe.clockWrongMs ?? reading.atMs);
  return { newestMs: atMs, newestRaw: reading.raw, quality, periodMs, intervals, clockWrongMs, behind };
};

/** The settings for a learned period, kept until it changes. */
const learnedSettings = (draft: Draft, plan: ProbePlan, { periodMs }: ProbeNow): QualitySettings => {
  if (periodMs === undefined) return plan.quality;
  const kept = (draft.learned ?? draft.state.learned)?.[plan.index];
  if (kept?.periodMs === periodMs) return kept;
  const settings = defaultQualitySettings(plan.quantity, periodMs);
  draft.learned ??= draft.state.learned?.slice() ?? draft.probes.map(() => undefined);
  draft.learned[plan.index] = settings;
  return settings;
};

const settingsOf = (draft: Draft, plan: ProbePlan, probe: ProbeNow, atMs: number): QualitySettings => {
  const settings = plan.periodMs === undefined ? learnedSettings(draft, plan, probe) : plan.quality;
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

/** The value in the canonical unit as its calibration has it; undefined for a unit that nobody knows. */
type Judged = { readonly value: number; readonly judged: PackedJudgement };

const judge = (
  draft: Draft,
  plan: ProbePlan,
  probe: ProbeNow,
  { atMs, refusedMs }: AcceptedTime,
  raw: number,
): Judged | undefined => {
  if (plan.conversion === undefined) return undefined;
  const uncorrected = converted(plan.conversion, raw);
  const value = plan.slope * uncorrected + plan.offset;
  const reading = { atMs, value, uncorrected, stampRefused: refusedMs !== undefined };
  return { value, judged: judgePacked(probe.quality, reading, settingsOf(draft, plan, probe, atMs)) };
};

const reviseBefore = (draft: Draft, sourceId: number, revised: PackedJudgement['revised'], water: WaterState): void => {
  // A spike that passed tells nothing new; any other verdict is worth its row.
  if (revised === undefined || testIn(revised.flags, 'spike') === FLAG.pass) return;
  draft.effects.push({ do: 'revise', sourceId, deviceMs: revised.atMs, flags: inWater(revised.flags, water) });
};

type Timed = { readonly accepted: AcceptedTime; readonly behind: Behind | undefined };

/** The time that a reading counts at: its arrival where the board's clock is refused, or known to be behind. */
const timed = (
  { atMs: arrivalMs, deviceMs, retained }: Reading,
  probe: ProbeNow | undefined,
  periodMs: number | undefined,
): Timed => {
  const accepted = acceptTime(arrivalMs, deviceMs, periodMs);
  if (probe === undefined || deviceMs === undefined || accepted.refusedMs !== undefined || retained === true)
    return { accepted, behind: probe?.behind };
  if (accepted.fresh) return { accepted, behind: undefined };
  const arrived = { arrivalMs, deviceMs, newestMs: probe.newestMs, periodMs };
  const behind = stepBehind(probe.behind, arrived);
  const isWrong = behind?.isSure === true && isOf(behind, arrived);
  return { accepted: isWrong ? { atMs: arrivalMs, refusedMs: deviceMs, fresh: true } : accepted, behind };
};

/** One reading: its time, its quality, its channel and what is computed from it, then the conditions that listen. */
export const takeReading = (draft: Draft, reading: Reading): void => {
  const { sourceId, atMs: arrivalMs, raw } = reading;
  const index = planOf(draft).probeOf.get(sourceId);
  const probe = index === undefined ? undefined : draft.probes[index];
  const plan = index === undefined ? undefined : planOf(draft).probes[index];
  const { accepted, behind } = timed(reading, probe, plan?.periodMs ?? probe?.periodMs);
  const { atMs, refusedMs } = accepted;
  if (index === undefined || probe === undefined || plan === undefined)
    return keep(draft, reading, atMs, UNJUDGED, refusedMs);
  const done = judge(draft, plan, probe, accepted, raw);
  if (done === undefined) return keep(draft, reading, atMs, UNJUDGED, refusedMs);
  const { value, judged } = done;
  // Older than the newest, or its moment once more: history only, judged by itself.
  const isHistory = probe.newestMs !== undefined && atMs <= probe.newestMs;
  if (!isHistory) {
    const after = probeAfter(probe, reading, atMs, judged.memory, refusedMs, behind);
    draft.probes[index] = after;
    draft.state.lastReadingMs = arrivalMs;
    const fresh = accepted.fresh && reading.retained !== true;
    const periodMs = plan.periodMs ?? after.periodMs;
    const bad = badIn(judged.flags) !== undefined;
    if (plan.ruling) ruleChannel(draft, plan, periodMs, reading, atMs, value, bad, fresh);
  } else if (behind !== probe.behind) draft.probes[index] = { ...probe, behind };
  const water = isHistory ? 'unknown' : waterAt(draft, plan);
  keep(draft, reading, atMs, inWater(judged.flags, water), refusedMs);
  reviseBefore(draft, sourceId, judged.revised, water);
};

const waterAt = (draft: Draft, plan: ProbePlan): WaterState =>
  plan.inWater ? at(draft.places, at(planOf(draft).channels, plan.channel).place).wet : 'unknown';

const inWater = (flags: number, water: WaterState): number => flagsWithTest(flags, 'multivariate', waterFlag[water]);
