import type { SourceKey } from './source.js';
import type { ProfiledStage } from './stage.js';
import type { Standing } from './standing.js';

/** Where a figure comes from: its standing always, its source (a key of SOURCES) and place in it when there is one. */
export type Origin = {
  readonly standing: Standing;
  readonly source?: SourceKey;
  readonly where?: string;
  readonly note?: string;
};

/** One number. */
export type Figure = Origin & { readonly value: number };

/** From low to high; an end that is absent is open. The ends of a `mixed` span have standings of their own. */
export type Span = Origin & {
  readonly low?: number;
  readonly high?: number;
  readonly lowStanding?: Standing;
  readonly highStanding?: Standing;
};

/** Target is advice, limit is where an alarm may sit, ceiling is never to be passed, whatever a plan says. */
export type Band = {
  readonly target: Span;
  readonly limit: Span;
  readonly ceiling?: Figure;
};

/** Work that comes back every so many hours; without `everyH` there is no fixed interval and the note says why. */
export type Rhythm = Origin & { readonly everyH?: number };

export type Substrate = Origin & {
  readonly need: 'none' | 'optional' | 'preferred' | 'needed' | 'later' | 'collector' | 'on-chip';
  readonly grainUm?: readonly [low: number, high: number];
};

/** How densely animals are kept. Each stage uses its own measures; the key carries the unit. */
export type Stocking = {
  readonly flowMlMinPerAdult?: Figure;
  readonly biomassKgM3?: Band;
  readonly animalsPerTray?: Band;
  readonly embryosPerMl?: Band;
  readonly earlyLarvaePerMl?: Band;
  readonly lateLarvaePerMl?: Band;
  readonly larvaePerCm2?: Band;
  readonly larvaePerCm2OnMicrocultch?: Band;
  readonly larvaePerCultchShell?: Band;
  readonly coverPctOfScreen?: Band;
  readonly liveGPerCylinderAtWeekStart?: Figure;
  readonly liveKgM2?: Band;
  readonly flowLMinPerKg?: Band;
};

/** Spawning by alternating warm and cool water. The ceiling is that of the stage's temperature band. */
export type ThermalCycle = {
  readonly ambientC: Span;
  readonly coolC: Span;
  readonly peakC: Span;
  readonly riseC: Span;
  readonly rampMin: Span;
  readonly holdMin: Span;
  readonly cyclesMax: Figure;
  readonly note?: string;
};

/** Figures that only some groups have. */
export type FurtherFigures = {
  readonly warmingCPerDay?: Span;
  readonly rationPctDryMeatPerDay?: Band;
  readonly rationExamplePctDryMeatPerDay?: Figure;
  readonly rationCellsPerAnimalPerDayMax?: Figure;
  readonly rationOrganicGPerLiveGPerWeek?: Band;
  readonly algaeBestCellsMl?: Span;
  readonly adultFiltrationLPerH?: Span;
  readonly degreeDayThresholdC?: Figure;
  readonly degreeDaysToRipe?: Figure;
  readonly shelledAndFeedingH?: Figure;
  readonly yieldPctEggsToEarlyLarvae?: Figure;
  readonly yieldPctEarlyLarvaeToEyed?: Figure;
  readonly yieldPctEyedToSpat?: Figure;
  readonly growthUmPerDay?: Figure;
  readonly settleLengthUm?: Span;
  readonly readyToSetD?: Span;
  readonly survivalPctToMetamorphosis?: Span;
  readonly coldDampStorageD?: Span;
  readonly lengthMmAt21D?: Figure;
  readonly upwellFromMm?: Figure;
  readonly liveMgAt1Mm?: Figure;
};

/** Temperature °C; salinity practical; oxygen % of air saturation at 1 atm and mg/L; algae as small-flagellate cells. */
export type StageProfile = FurtherFigures & {
  readonly temperatureC: Band;
  readonly salinity: Band;
  readonly oxygenSaturationPct: Band;
  readonly oxygenMgL: Band;
  readonly ph?: Band;
  readonly algaeCellsMl: Band;
  readonly stocking: Stocking;
  readonly waterChange: Rhythm;
  readonly cleaning: Rhythm;
  readonly substrate: Substrate;
  readonly durationD: Span;
  readonly thermalCycle?: ThermalCycle;
};

export type SpeciesGroup<Id extends string = string> = {
  readonly id: Id;
  readonly name: string;
  readonly scientificNames: readonly string[];
  readonly note?: string;
  readonly stages: { readonly [stage in ProfiledStage]: StageProfile };
};
