import { readFileSync } from 'node:fs';
import { fault, ok, type Result } from '../rules/result.js';
import type { Config } from './config.js';
import type { AppParts } from './http/parts.js';

/** Certificate and key as they are set; undefined where none is, and the sentence of a file that cannot be read. */
export const readTls = ({ tls }: Config): Result<AppParts['tls'], string> => {
  if (tls === undefined) return ok(undefined);
  try {
    return ok({ cert: readFileSync(tls.certPath, 'utf8'), key: readFileSync(tls.keyPath, 'utf8') });
  } catch (error) {
    const { path, code } = error as NodeJS.ErrnoException;
    return fault(
      `The file ${path ?? tls.certPath} cannot be read (${code ?? 'unknown reason'}): correct NIGHTWATER_TLS_CERT or NIGHTWATER_TLS_KEY.`,
    );
  }
};
