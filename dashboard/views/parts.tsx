import { useMemo } from 'preact/hooks';
import { openSampleRoom } from '../parts/sample-life.js';
import { isSampleRoom, type SampleRoom } from '../parts/sample-room.js';
import { RoomContext } from '../state/room.js';
import { RoomPage } from './room-page.js';

/** Every part in every state, and whole rooms (`/parts?room=alarmed`), without a gateway. */
export const Parts = ({ room }: { readonly room: string | undefined }) =>
  room !== undefined && isSampleRoom(room) ? <SampleWall name={room} /> : <p>parts</p>;

const SampleWall = ({ name }: { name: SampleRoom }) => {
  const room = useMemo(() => openSampleRoom(name), [name]);
  return (
    <RoomContext.Provider value={room}>
      <RoomPage />
    </RoomContext.Provider>
  );
};
