import { openRoom, PULSE_LENGTH, type Room } from '../state/room.js';
import { SAMPLE_NOW_MS, type SampleRoom, sampleRoom } from './sample-room.js';

/** A room that lives without a gateway: its clock stands, so that a picture of it is the same tomorrow. */
export const openSampleRoom = (name: SampleRoom): Room => {
  const { picture, trails } = sampleRoom(name);
  const room = openRoom(SAMPLE_NOW_MS, picture);
  room.trails.value = trails;
  room.heardMs.value = SAMPLE_NOW_MS;
  room.feed.value = name === 'lost' ? { kind: 'lost', sinceMs: SAMPLE_NOW_MS - 190_000 } : { kind: 'live' };
  room.pulse.value = Array.from({ length: PULSE_LENGTH }, (_, beat) => 3 + ((beat * 7919) % 11) * ((beat % 3) + 1));
  return room;
};
