import { type BoardStep, feelWater, restingBoard, stepBoard } from './board.js';
import { type Event, ofKind } from './event.js';
import { byId, type Hatchery, type HatcheryState, known } from './hatchery.js';
import { birthOf, type Message, messagesOf, willOf } from './payload.js';
import { seedFrom, uniformAt } from './random.js';
import { stepRoom } from './room.js';
import { truthOf } from './sense.js';
import { type Line, seaAt, stepSupply } from './supply.js';
import { surroundingsOf } from './surroundings.js';
import { stillWater } from './water.js';
import { stepWater } from './water-step.js';
import { weatherAt } from './weather.js';

/** A hatchery that has been running quietly: tanks at their set-points or at their header's temperature. */
export const startHatchery = (hatchery: Hatchery, atMs: number): HatcheryState => {
  const weather = weatherAt(hatchery.climate, atMs);
  const supply = byId(hatchery.lines, (line) => {
    const sea = seaAt(line.sea, hatchery.climate, atMs);
    const temperatureC = line.warmedToC ?? sea.temperatureC;
    return { headerL: line.headerL, temperatureC, salinity: sea.salinity, runoffMm: 0, drawnLMin: 0 };
  });
  return {
    atMs,
    supply,
    roomC: byId(hatchery.rooms, ({ heatedToC, pumpsC }) => Math.max(heatedToC ?? -Infinity, weather.airC + pumpsC)),
    circuitOn: Object.fromEntries(hatchery.circuits.map((id) => [id, true])),
    airMainOn: byId(hatchery.airMains, () => true),
    water: byId(hatchery.tanks, (tank) => {
      const header = known(supply, tank.line);
      return stillWater(tank, (tank.heater ?? tank.chiller)?.setC ?? header.temperatureC, header.salinity);
    }),
    board: byId(hatchery.boards, () => restingBoard),
  };
};

/** The hatchery `dtS` seconds later, with these events in force all the while. */
export const stepHatchery = (
  hatchery: Hatchery,
  before: HatcheryState,
  dtS: number,
  events: readonly Event[],
): HatcheryState => {
  const weather = weatherAt(hatchery.climate, before.atMs);
  const state = withMains(hatchery, before, events);
  const roomC = byId(hatchery.rooms, (room) => {
    const powered = known(state.circuitOn, room.circuit);
    const extraC = ofKind(events, 'heat-wave').reduce((sum, { room: id, byC }) => sum + (id === room.id ? byC : 0), 0);
    return stepRoom(known(state.roomC, room.id), room, weather, { powered, extraC }, dtS);
  });
  const supply = byId(hatchery.lines, (line) =>
    stepSupply(known(state.supply, line.id), line, supplyAround(hatchery, state, line, events, weather.rainMmH), dtS),
  );
  const water = byId(hatchery.tanks, (tank) =>
    stepWater(known(state.water, tank.id), tank, surroundingsOf(hatchery, state, tank, events, weather), dtS),
  );
  const next = { ...state, atMs: before.atMs + dtS * 1000, roomC, supply, water };
  const board = byId(hatchery.boards, (one) =>
    feelWater(known(state.board, one.id), one, (probe) => truthOf(probe, hatchery, next, events), dtS),
  );
  return { ...next, board };
};

/** Every board's readings that are due now, before they are put into words. */
export const readBoards = (
  hatchery: Hatchery,
  state: HatcheryState,
  events: readonly Event[],
): { readonly state: HatcheryState; readonly steps: { readonly [board: string]: BoardStep } } => {
  const steps = byId(hatchery.boards, (board) =>
    stepBoard(known(state.board, board.id), board, {
      powered: known(state.circuitOn, board.circuit),
      atMs: state.atMs,
      events,
      seed: seedFrom(hatchery.seed, board.id),
      truthOf: (probe) => truthOf(probe, hatchery, state, events),
    }),
  );
  return { state: { ...state, board: byId(hatchery.boards, ({ id }) => known(steps, id).state) }, steps };
};

/** What every board publishes at this moment. */
export const measureHatchery = (
  hatchery: Hatchery,
  before: HatcheryState,
  events: readonly Event[],
): { readonly state: HatcheryState; readonly messages: readonly Message[] } => {
  const { state, steps } = readBoards(hatchery, before, events);
  const messages = hatchery.boards.flatMap((board): readonly Message[] => {
    const { batches, link } = known(steps, board.id);
    const said = messagesOf(board, batches, state.atMs);
    const twice = said.flatMap((message) => repeated(message, hatchery, state.atMs, events));
    if (link === 'lost') return [willOf(board)];
    return link === 'came' ? [birthOf(board), ...twice] : twice;
  });
  return { state, messages };
};

const repeated = (message: Message, { seed }: Hatchery, atMs: number, events: readonly Event[]): readonly Message[] => {
  const chance = uniformAt(seedFrom(seed, message.topic), atMs);
  const again = ofKind(events, 'board-fault').some(
    ({ board, fault }) => board === message.board && fault.kind === 'duplicates' && chance < fault.share,
  );
  return again ? [message, message] : [message];
};

const withMains = (hatchery: Hatchery, state: HatcheryState, events: readonly Event[]): HatcheryState => {
  const cut = new Set(ofKind(events, 'power-cut').map(({ circuit }) => circuit));
  const off = new Set(ofKind(events, 'air-off').map(({ main }) => main));
  return {
    ...state,
    circuitOn: Object.fromEntries(hatchery.circuits.map((id) => [id, !cut.has(id)])),
    airMainOn: byId(hatchery.airMains, ({ id, circuit }) => !cut.has(circuit) && !off.has(id)),
  };
};

const supplyAround = (
  hatchery: Hatchery,
  state: HatcheryState,
  line: Line,
  events: readonly Event[],
  rainMmH: number,
): Parameters<typeof stepSupply>[2] => {
  const powered = known(state.circuitOn, line.circuit);
  const drawing = hatchery.tanks.filter((tank) => tank.line === line.id);
  const poured = ofKind(events, 'rain').reduce((sum, event) => sum + (event.line === line.id ? event.mmH : 0), 0);
  return {
    climate: hatchery.climate,
    atMs: state.atMs,
    rainMmH: rainMmH + poured,
    pumpOn: powered && !ofKind(events, 'intake-pump-off').some((event) => event.line === line.id),
    powered,
    drawLMin: drawing.reduce((sum, { id }) => sum + known(state.water, id).inflowLMin, 0),
  };
};
