import { useEffect, useMemo } from 'preact/hooks';
import { PartsBook } from '../parts/parts-book.js';
import { keepAlive, openSampleRoom, sampleApi, sampleOutbox } from '../parts/sample-life.js';
import { isSampleRoom, type SampleRoom } from '../parts/sample-name.js';
import { ApiContext } from '../state/gateway.js';
import { OutboxContext } from '../state/live-outbox.js';
import { RoomContext } from '../state/room.js';
import { session } from '../state/session.js';
import { Alarm } from './alarm.js';
import { Alarms } from './alarms.js';
import { Places } from './places.js';
import { ReadingPage } from './reading.js';
import { RoomPage } from './room-page.js';
import { SignIn } from './sign-in.js';
import { Sources } from './sources.js';
import { Tank } from './tank.js';

/** Every part in every state; whole rooms (`/parts?room=alarmed`) and pages (`/parts?room=alarmed.alarm`) of an invented hatchery. */
export const Parts = ({ room }: { readonly room: string | undefined }) => {
  const [name = 'alarmed', page = 'room'] = (room ?? 'storm.book').split('.');
  return isSampleRoom(name) ? (
    <Sample key={room} name={name} page={page} />
  ) : (
    <p class="page-note">No such sample room.</p>
  );
};

const Sample = ({ name, page }: { name: SampleRoom; page: string }) => {
  const room = useMemo(() => openSampleRoom(name), [name]);
  const pretend = useMemo(() => sampleApi(room), [room]);
  const outbox = useMemo(sampleOutbox, []);
  useEffect(() => (page === 'alive' ? keepAlive(room) : undefined), [room, page]);
  session.value ??= { first: page === 'first', demo: true };
  return (
    <ApiContext.Provider value={pretend}>
      <RoomContext.Provider value={room}>
        <OutboxContext.Provider value={outbox}>
          <Shown page={page} />
        </OutboxContext.Provider>
      </RoomContext.Provider>
    </ApiContext.Provider>
  );
};

const Shown = ({ page }: { page: string }) => {
  switch (page) {
    case 'room':
    case 'alive':
      return <RoomPage />;
    case 'tank':
      return <Tank id="b3" />;
    case 'hot':
      return <Tank id="l2" />;
    case 'alarm':
      return <Alarm id="a-heater-stuck-on-l2" />;
    case 'alarms':
      return <Alarms />;
    case 'sources':
      return <Sources />;
    case 'places':
      return <Places />;
    case 'reading':
      return <ReadingPage />;
    case 'first':
    case 'sign-in':
      return <SignIn onDone={() => undefined} />;
    default:
      return <PartsBook />;
  }
};
