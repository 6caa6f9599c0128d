import { createHash, randomBytes } from 'node:crypto';
import {
  createReadStream,
  existsSync,
  mkdirSync,
  type ReadStream,
  readdirSync,
  renameSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';

export type PhotoType = 'image/jpeg' | 'image/png' | 'image/webp';
const ENDINGS: { readonly [type in PhotoType]: string } = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
};

/** A phone's picture, made smaller by the page before it is sent. */
export const LARGEST_PHOTO_BYTES = 6 * 1024 * 1024;

/** What the bytes themselves say they are; what the sender says is not asked. */
export const sniffedType = (bytes: Uint8Array): PhotoType | undefined => {
  const starts = (...signature: readonly number[]): boolean => signature.every((byte, n) => bytes[n] === byte);
  if (starts(0xff, 0xd8, 0xff)) return 'image/jpeg';
  if (starts(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'image/png';
  const isRiff = starts(0x52, 0x49, 0x46, 0x46);
  const isWebp = [0x57, 0x45, 0x42, 0x50].every((byte, n) => bytes[8 + n] === byte);
  return isRiff && isWebp ? 'image/webp' : undefined;
};

export type Photos = {
  /** The name it has from now on: the same picture twice is one. Undefined when it is no picture. */
  keep(bytes: Uint8Array): string | undefined;
  has(id: string): boolean;
  read(id: string): { readonly type: PhotoType; readonly stream: ReadStream } | undefined;
};

const isName = (id: string): boolean => /^[0-9a-f]{64}$/.test(id);

/** Photos beside the journal, each under the hash of its bytes. */
export const openPhotos = (dataFolder: string): Photos => {
  const folder = join(dataFolder, 'photos');
  const types = Object.keys(ENDINGS) as readonly PhotoType[];
  const known = new Map<string, PhotoType>();
  const pathOf = (id: string, type: PhotoType): string => join(folder, `${id}.${ENDINGS[type]}`);
  if (existsSync(folder)) {
    for (const name of readdirSync(folder)) {
      const [id = '', ending] = name.split('.');
      const type = types.find((one) => ENDINGS[one] === ending);
      if (isName(id) && type !== undefined) known.set(id, type);
    }
  }
  return {
    keep: (bytes) => {
      const type = sniffedType(bytes);
      if (type === undefined) return undefined;
      const id = createHash('sha256').update(bytes).digest('hex');
      if (known.has(id)) return id;
      mkdirSync(folder, { recursive: true });
      const draft = join(folder, `.${randomBytes(8).toString('hex')}`);
      writeFileSync(draft, bytes);
      // Whole or not there: a power cut leaves no half picture under a whole one's name.
      renameSync(draft, pathOf(id, type));
      known.set(id, type);
      return id;
    },
    has: (id) => known.has(id),
    read: (id) => {
      const type = known.get(id);
      return type === undefined ? undefined : { type, stream: createReadStream(pathOf(id, type)) };
    },
  };
};
