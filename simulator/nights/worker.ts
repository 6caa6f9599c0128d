import { parentPort } from 'node:worker_threads';
import { type Batch, judgeBatch } from './pool.js';

parentPort?.on('message', (batch: Batch) => parentPort?.postMessage(judgeBatch(batch)));
