import { type Document, isMap, isPair, isScalar, isSeq, LineCounter, parseDocument } from 'yaml';
import { UNITS_UNDERSTOOD } from '../../rules/quantity.js';
import { fault, ok, type Result } from '../../rules/result.js';
import { faultsFrom } from '../http/mend.js';
import { buildBodyAjv } from '../http/validate.js';
import { didYouMean } from '../nearest.js';
import { placeFaults, siteFaults } from '../settings-check.js';
import { FILE_KEYS, LIST_NAMES, SITE_FILE, SITE_FILE_FORMAT, type SiteFile } from './format.js';
import { type Wanted, wantedFrom } from './wanted.js';

/** What is wrong with a site file, where, and how to mend it. Lines and columns count from 1. */
export type SiteFileFault = { readonly line: number; readonly column: number; readonly sentence: string };

type Path = readonly (string | number)[];
type Fault = { readonly path: Path; readonly sentence: string };

/** Every fault of the file with its place, or all that it wants. */
export const parseSiteFile = (text: string): Result<Wanted, readonly SiteFileFault[]> => {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  const at = (offset: number): Pick<SiteFileFault, 'line' | 'column'> => {
    const { line, col } = lines.linePos(offset);
    return { line: Math.max(1, line), column: Math.max(1, col) };
  };
  if (document.errors.length > 0) {
    return fault(
      document.errors.map(({ pos, message }) => ({ ...at(pos[0]), sentence: `This is not YAML: ${message}.` })),
    );
  }
  const value = plainValue(document);
  if (value === undefined)
    return fault([{ line: 1, column: 1, sentence: 'The file refers to itself too often (* and &).' }]);
  const faults = shapeFaults(value);
  const found = faults.length > 0 ? faults : fitFaults(value as SiteFile);
  if (found.length === 0) return ok(wantedFrom(value as SiteFile));
  const placed = found.map(({ path, sentence }) => ({ ...at(offsetOf(document, path)), sentence }));
  return fault(placed.sort((a, b) => a.line - b.line || a.column - b.column));
};

/** Undefined for a file that unfolds into more than anybody wrote. */
const plainValue = (document: Document): unknown => {
  try {
    return document.toJS({ maxAliasCount: 100 }) ?? {};
  } catch {
    return undefined;
  }
};

// ajv's own draft has every word that the schema uses; its $schema is for editors.
const { $schema: _, ...SCHEMA } = SITE_FILE;
const validate = buildBodyAjv().compile(SCHEMA);

const pathFrom = (pointer: string): Path =>
  pointer
    .split('/')
    .slice(1)
    .map((key) => {
      const plain = key.replaceAll('~1', '/').replaceAll('~0', '~');
      return /^\d+$/.test(plain) ? Number(plain) : plain;
    });

const shapeFaults = (value: unknown): readonly Fault[] => {
  const format = typeof value === 'object' && value !== null && 'format' in value ? value.format : undefined;
  if (format !== undefined && format !== SITE_FILE_FORMAT) {
    const sentence = `This file has the format ${JSON.stringify(format)}; this program knows ${SITE_FILE_FORMAT}.`;
    return [{ path: ['format'], sentence }];
  }
  return validate(value)
    ? []
    : faultsFrom(validate.errors ?? []).map(({ pointer, detail }) => ({ path: pathFrom(pointer), sentence: detail }));
};

/** What a schema cannot see: names that are taken, supplies that are not there, units, moments, the zone. */
const fitFaults = (file: SiteFile): readonly Fault[] => {
  const site = siteFaults(file.site).map(
    ({ pointer, detail }): Fault => ({ path: ['site', pointer.slice(1)], sentence: detail }),
  );
  return [...site, ...idFaults(file), ...placeFaultsOf(file), ...probeFaults(file)];
};

const listed = (file: SiteFile) =>
  LIST_NAMES.flatMap((list) => (file[list] ?? []).map((place, index) => ({ path: [list, index] as Path, place })));

const repeats = (
  entries: readonly { readonly path: Path; readonly key: string }[],
  say: (key: string) => string,
): readonly Fault[] => {
  const seen = new Set<string>();
  return entries.flatMap(({ path, key }) => {
    if (!seen.has(key)) {
      seen.add(key);
      return [];
    }
    return [{ path, sentence: say(key) }];
  });
};

const idFaults = (file: SiteFile): readonly Fault[] =>
  repeats(
    listed(file).map(({ path, place }) => ({ path: [...path, 'id'], key: place.id })),
    (id) => `The id “${id}” stands twice in this file: every place needs its own.`,
  );

const placeFaultsOf = (file: SiteFile): readonly Fault[] => {
  const { places } = wantedFrom(file);
  return listed(file).flatMap(({ path }, index) => {
    const place = places[index];
    if (place === undefined) return [];
    return placeFaults(
      place,
      places.filter((other) => other.id !== place.id),
    ).map(({ pointer, detail }) => {
      const [first = '', ...rest] = pathFrom(pointer);
      return { path: [...path, FILE_KEYS[first] ?? first, ...rest], sentence: detail };
    });
  });
};

const probeFaults = (file: SiteFile): readonly Fault[] => {
  const probes = listed(file).flatMap(({ path, place }) =>
    (place.probes ?? []).map((probe, index) => ({ path: [...path, 'probes', index] as Path, probe, place })),
  );
  const units = probes.flatMap(({ path, probe: { unit, quantity } }) => {
    const known = Object.keys(UNITS_UNDERSTOOD[quantity]);
    if (known.includes(unit)) return [];
    const sentence = `“${unit}” is not a unit of ${quantity} that is understood.${didYouMean(unit, known)} Known: ${known.join(', ')}.`;
    return [{ path: [...path, 'unit'], sentence }];
  });
  const twice = repeats(
    probes.map(({ path, probe }) => ({ path: [...path, 'source'], key: probe.source })),
    (source) => `The source “${source}” stands twice in this file: it can be one probe only.`,
  );
  const ruling = probes.filter(({ probe }) => probe.ruling !== false);
  const rivals = repeats(
    ruling.map(({ path, probe, place }) => ({ path, key: `${probe.quantity}${probe.position ?? ''} of ${place.id}` })),
    (channel) => `Two probes speak for ${channel}: give one of them “ruling: false”, or a position.`,
  );
  return [...units, ...twice, ...rivals];
};

/** Where the key stands, else the nearest thing around it that is there. */
const offsetOf = (document: Document, path: Path): number => {
  let node: unknown = document.contents;
  let offset = 0;
  for (const key of path) {
    if (isMap(node)) {
      const pair = node.items.find(
        (item) => isPair(item) && isScalar(item.key) && String(item.key.value) === String(key),
      );
      if (pair === undefined) return offset;
      if (isScalar(pair.key)) offset = pair.key.range?.[0] ?? offset;
      node = pair.value;
    } else if (isSeq(node)) {
      node = node.items[Number(key)];
      offset = (isMap(node) || isScalar(node) || isSeq(node) ? node.range?.[0] : undefined) ?? offset;
    } else return offset;
  }
  return offset;
};
