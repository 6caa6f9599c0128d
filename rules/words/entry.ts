import type { CountFields } from '../log/common.js';
import type { Entry } from '../log/entry.js';
import { tallyOf } from '../log/tally.js';
import { animalsWords, tallyWords } from './animals.js';
import { clockWords } from './clock.js';
import { entryNames } from './entry-name.js';
import { plainWords } from './figure.js';
import type { Reader } from './language.js';
import { namesFor } from './name.js';
import { valueWords } from './number.js';

/** How the log says places: by their names on the wall. */
export type LogReader = Reader & { readonly placeName: (placeId: string) => string };

const counted = (count: CountFields, reader: Reader): string => {
  const tally = tallyOf(count);
  return tally.ok ? tallyWords(tally.value, reader) : 'not counted';
};

const degrees = (temperatureC: number, reader: Reader): string => valueWords('temperature', temperatureC, reader);
const joined = (...parts: readonly (string | undefined | false)[]): string =>
  parts.filter((part) => typeof part === 'string' && part !== '').join(', ');
/** As many digits as anybody writes down. */
const DIGITS = 12;
const withUnit = (value: number | undefined, unit: string, reader: Reader): string | undefined =>
  value === undefined ? undefined : `${plainWords(value, DIGITS, reader)} ${unit}`;

/** What an entry says, in one line, without its time, place and author. */
export const entryWords = (entry: Entry, reader: LogReader): string => {
  const words = animalEntry(entry, reader) ?? waterEntry(entry, reader) ?? keepingEntry(entry, reader);
  return joined(words, entry.note);
};

const animalEntry = (entry: Entry, reader: LogReader): string | undefined => {
  const names = namesFor(reader);
  switch (entry.kind) {
    case 'brought-in': {
      const { batchId, count, stage, origin, permit } = entry.fields;
      return joined(
        `${counted(count, reader)} ${names.stage[stage]} as ${batchId} from ${origin}`,
        permit && `permit ${permit}`,
      );
    }
    case 'eggs-stocked':
      return `${counted(entry.fields.count, reader)} eggs as ${entry.fields.batchId}`;
    case 'count':
      return joined(counted(entry.fields.count, reader), entry.fields.batchId);
    case 'deaths':
      return joined(`${animalsWords(entry.fields.animals, reader)} dead`, entry.fields.signs);
    case 'cull':
      return joined(`${animalsWords(entry.fields.animals, reader)} culled`, entry.fields.why);
    case 'sample':
      return joined(`${animalsWords(entry.fields.animals, reader)} taken`, entry.fields.purpose);
    case 'sale': {
      const { animals, to, permit } = entry.fields;
      return joined(`${animalsWords(animals, reader)} to ${to}`, permit && `permit ${permit}`);
    }
    case 'move': {
      const { to, animals } = entry.fields;
      return `${animals === undefined ? 'all' : animalsWords(animals, reader)} to ${reader.placeName(to)}`;
    }
    case 'split':
      return partsWords(entry.fields.to, reader);
    case 'pool':
      return joined(
        `all into ${reader.placeName(entry.fields.to)}`,
        entry.fields.batchId && `as ${entry.fields.batchId}`,
      );
    case 'dump':
      return `all dumped: ${entry.fields.why}`;
    case 'stage':
      return `now ${names.stage[entry.fields.stage]}`;
    case 'drain-down':
      return sheetWords(entry, reader);
    default:
      return undefined;
  }
};

const partsWords = (
  parts: readonly { readonly placeId: string; readonly animals: number }[],
  reader: LogReader,
): string =>
  parts.map(({ placeId, animals }) => `${animalsWords(animals, reader)} to ${reader.placeName(placeId)}`).join(', ');

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

const sheetWords = ({ fields }: Entry<'drain-down'>, reader: LogReader): string => {
  const { count, lengthsUm, swimming, gut, dead, culled, screensUm, end, placeId, to, why, stage } = fields;
  const names = entryNames(reader);
  const went =
    end === 'split'
      ? partsWords(to ?? [], reader)
      : placeId === undefined
        ? names.end[end]
        : `${end === 'pooled' ? 'pooled into' : 'to'} ${reader.placeName(placeId)}`;
  return joined(
    screensUm && `on ${screensUm.map((um) => plainWords(um, DIGITS, reader)).join(' and ')} µm`,
    dead !== undefined && dead > 0 && `${animalsWords(dead, reader)} dead`,
    culled !== undefined && culled > 0 && `${animalsWords(culled, reader)} culled`,
    count && counted(count, reader),
    lengthsUm && `${Math.round(mean(lengthsUm))} µm (${lengthsUm.length} shells)`,
    swimming && `swimming: ${names.swimming[swimming]}`,
    gut && `gut: ${names.gut[gut]}`,
    went,
    why,
    stage && `now ${namesFor(reader).stage[stage]}`,
  );
};

const waterEntry = (entry: Entry, reader: LogReader): string | undefined => {
  const names = entryNames(reader);
  switch (entry.kind) {
    case 'feeding': {
      const { volumeL, alga, residualCellsMl } = entry.fields;
      return joined(withUnit(volumeL, 'L', reader), alga, withUnit(residualCellsMl, 'cells/mL left before', reader));
    }
    case 'water-change': {
      const { sharePct, temperatureC } = entry.fields;
      return joined(
        withUnit(sharePct, '%', reader),
        temperatureC !== undefined && `with ${degrees(temperatureC, reader)}`,
      );
    }
    case 'hand-measurement': {
      const { quantity, value, instrument } = entry.fields;
      return joined(`${namesFor(reader).quantity[quantity]} ${valueWords(quantity, value, reader)}`, instrument);
    }
    case 'cleaning':
      return joined(names.cleaned[entry.fields.what], entry.fields.with);
    case 'bed-look': {
      const { layerMm, seenIn, sand, smell, siphons } = entry.fields;
      return joined(
        layerMm !== undefined && `light layer ${withUnit(layerMm, 'mm', reader)}`,
        seenIn && `seen in ${names.seenIn[seenIn]}`,
        sand && `sand: ${names.sand[sand]}`,
        smell && `smell: ${names.smell[smell]}`,
        siphons && `siphons ${names.siphons[siphons]}`,
      );
    }
    case 'disinfection':
      return joined(entry.fields.product, withUnit(entry.fields.doseMgL, 'mg/L', reader));
    case 'residual-test':
      return joined(withUnit(entry.fields.foundMgL, 'mg/L found', reader), entry.fields.rinsed === true && 'rinsed');
    case 'treatment': {
      const { product, amount, why, prescribedBy } = entry.fields;
      return joined(`${product}, ${amount}: ${why}`, prescribedBy && `prescribed by ${prescribedBy}`);
    }
    case 'calibration': {
      const { quantity, against, before, after } = entry.fields;
      const read = before === undefined ? undefined : `read ${valueWords(quantity, before, reader)}`;
      const now = after === undefined ? undefined : `now ${valueWords(quantity, after, reader)}`;
      return joined(`${namesFor(reader).quantity[quantity]} against ${against}`, read, now);
    }
    case 'culture': {
      const { culture, event, cellsMl, volumeL } = entry.fields;
      return joined(
        `${culture} ${names.culture[event]}`,
        withUnit(volumeL, 'L', reader),
        withUnit(cellsMl, 'cells/mL', reader),
      );
    }
    case 'filter':
      return joined(entry.fields.what, withUnit(entry.fields.micron, 'µm', reader));
    case 'uv-hours':
      return `${entry.fields.lamp}: ${withUnit(entry.fields.hours, 'h', reader) ?? ''}`;
    default:
      return undefined;
  }
};

const keepingEntry = (entry: Entry, reader: LogReader): string => {
  const names = entryNames(reader);
  switch (entry.kind) {
    case 'run-plan': {
      const { animals, ambientC, riseC, coolC, holdMin, cycles } = entry.fields;
      const swing = `${degrees(coolC, reader)} to ${degrees(ambientC + riseC, reader)}`;
      return `${animals} animals, ${swing}, ${cycles} × ${plainWords(holdMin, DIGITS, reader)} min`;
    }
    case 'run-phase': {
      const { phase, recognised, reachedC } = entry.fields;
      return joined(
        names.phase[phase],
        reachedC !== undefined && degrees(reachedC, reader),
        recognised === true && 'seen in the trace',
      );
    }
    case 'run-spawner':
      return joined(`no. ${entry.fields.animal}`, names.sex[entry.fields.sex], entry.fields.vessel);
    case 'run-eggs': {
      const { count, fertilisedPct, to } = entry.fields;
      return joined(
        `${counted(count, reader)} eggs`,
        withUnit(fertilisedPct, '% fertilised', reader),
        to && `to ${reader.placeName(to)}`,
      );
    }
    case 'run-end':
      return joined(names.runEnd[entry.fields.why], entry.fields.words);
    case 'work':
      return `${namesFor(reader).work[entry.fields.work]}, ${plainWords(entry.fields.minutes, DIGITS, reader)} min`;
    case 'work-longer':
      return `until ${clockWords(entry.fields.untilMs, reader)}`;
    case 'round': {
      const { which, except } = entry.fields;
      const left = except.map(({ placeId, words }) => joined(reader.placeName(placeId), words)).join('; ');
      return joined(names.round[which], left === '' ? 'all seen' : `all seen except ${left}`);
    }
    case 'on-site':
      return entry.fields.here ? 'came' : 'left';
    case 'note':
      return entry.fields.words;
    case 'struck':
      return entry.fields.why;
    default:
      return '';
  }
};
