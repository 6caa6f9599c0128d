import { isQuantity, type Quantity } from '../quantity.js';

/** What a topic says by the default scheme; a configured filter may bring others, which are sources all the same. */
export type TopicAddress =
  | {
      readonly kind: 'tank';
      readonly tank: string;
      readonly quantity: Quantity;
    }
  | {
      readonly kind: 'tank-unknown-quantity';
      readonly tank: string;
      readonly word: string;
    }
  | { readonly kind: 'board-status'; readonly board: string }
  | { readonly kind: 'board'; readonly board: string; readonly rest: string }
  | { readonly kind: 'other' };

export const DEFAULT_FILTERS = ['tanks/+/+', 'boards/#'] as const;

/** The tank in a topic only pre-fills the naming: probes move, topics stay. */
export const parseTopic = (topic: string): TopicAddress => {
  const levels = topic.split('/');
  const [root, name, third] = levels;
  if (name === undefined || name === '') return { kind: 'other' };
  if (root === 'tanks' && third !== undefined && levels.length === 3) {
    return isQuantity(third)
      ? { kind: 'tank', tank: name, quantity: third }
      : { kind: 'tank-unknown-quantity', tank: name, word: third };
  }
  if (root === 'boards' && third !== undefined) {
    return third === 'status' && levels.length === 3
      ? { kind: 'board-status', board: name }
      : { kind: 'board', board: name, rest: levels.slice(2).join('/') };
  }
  return { kind: 'other' };
};

export const tankTopic = (tank: string, quantity: Quantity): string => `tanks/${tank}/${quantity}`;
export const boardTopic = (board: string, rest: string): string => `boards/${board}/${rest}`;
export const statusTopic = (board: string): string => `boards/${board}/status`;
export const heartbeatTopic = (site: string): string => `nightwater/${site}/heartbeat`;
export const alarmTopic = (site: string, alarm: string): string => `nightwater/${site}/alarms/${alarm}`;
