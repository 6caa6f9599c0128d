import { fault, ok, type Result } from '../../rules/result.js';
import { type Config, loadConfig } from '../config.js';
import { loadEnvironment } from '../environment.js';
import type { Io } from './command.js';

/** The settings from outside for a command, or every sentence that says what is wrong with them. */
export const settledConfig = ({ env }: Pick<Io, 'env'>): Result<Config, readonly string[]> => {
  const environment = loadEnvironment(env);
  if (!environment.ok) return fault([environment.fault]);
  const config = loadConfig(environment.value);
  return config.ok ? ok(config.value) : fault(config.fault.map(({ sentence }) => sentence));
};
