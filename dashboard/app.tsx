import { useComputed } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { api } from './link/api.js';
import { later } from './parts/later.js';
import { Page } from './parts/page.js';
import { followAddress, go, route } from './state/address.js';
import { OutboxContext, openOutbox } from './state/live-outbox.js';
import { openLiveRoom } from './state/live-room.js';
import { RoomContext, useRoom } from './state/room.js';
import type { Route } from './state/route.js';
import { session } from './state/session.js';
import { RoomPage } from './views/room-page.js';

const Tank = later(async () => (await import('./views/tank.js')).Tank);
const Alarm = later(async () => (await import('./views/alarm.js')).Alarm);
const Alarms = later(async () => (await import('./views/alarms.js')).Alarms);
const Sources = later(async () => (await import('./views/sources.js')).Sources);
const Places = later(async () => (await import('./views/places.js')).Places);
const Day = later(async () => (await import('./views/day.js')).Day);
const Write = later(async () => (await import('./views/write.js')).Write);
const Sheet = later(async () => (await import('./views/sheet.js')).Sheet);
const Round = later(async () => (await import('./views/round.js')).Round);
const Limits = later(async () => (await import('./views/limits.js')).LimitsPage);
const Batches = later(async () => (await import('./views/batches.js')).Batches);
const Batch = later(async () => (await import('./views/batch.js')).Batch);
const Runs = later(async () => (await import('./views/runs.js')).Runs);
const Run = later(async () => (await import('./views/run.js')).Run);
const Bench = later(async () => (await import('./views/bench.js')).Bench);
const Reviews = later(async () => (await import('./views/reviews.js')).Reviews);
const Review = later(async () => (await import('./views/review.js')).ReviewPage);
const History = later(async () => (await import('./views/history.js')).History);
const Papers = later(async () => (await import('./views/papers.js')).PapersPage);
const SitePage = later(async () => (await import('./views/site.js')).SitePage);
const Buttons = later(async () => (await import('./views/buttons.js')).Buttons);
const Watch = later(async () => (await import('./views/watch.js')).Watch);
const Bedside = later(async () => (await import('./views/bedside.js')).Bedside);
const Morning = later(async () => (await import('./views/morning.js')).Morning);
const Season = later(async () => (await import('./views/season.js')).SeasonPage);
const WaysOut = later(async () => (await import('./views/ways-out.js')).WaysOut);
const Ladders = later(async () => (await import('./views/ladders.js')).Ladders);
const Figures = later(async () => (await import('./views/figures.js')).Figures);
const Answer = later(async () => (await import('./views/answer.js')).AnswerPage);
const Reading = later(async () => (await import('./views/reading.js')).ReadingPage);
const SignIn = later(async () => (await import('./views/sign-in.js')).SignIn);
const Parts = later(async () => (await import('./views/parts.js')).Parts);

/** The whole of the pages: which one is shown, and who is signed in. The page of parts needs no gateway. */
export const App = () => {
  useEffect(followAddress, []);
  const now = route.value;
  if (now.page === 'answer') return <Answer token={now.token} />;
  return now.page === 'parts' ? <Parts room={now.room} /> : <Signed />;
};

/** Asks who is signed in before the room is opened; a gateway that does not answer is told by the room itself. */
const Signed = () => {
  useEffect(() => {
    void api.session().then((asked) => {
      session.value = asked.ok ? asked.value : { first: false, demo: asked.fault.status !== 401 };
    });
  }, []);
  const who = session.value;
  if (who === undefined) return null;
  const stranger = !who.demo && who.name === undefined;
  if (stranger || route.value.page === 'sign-in')
    return (
      <SignIn onDone={() => go(route.value.page === 'sign-in' ? { page: 'room' } : route.value, { replace: true })} />
    );
  return <Live />;
};

const FETCH_AHEAD_MS = 2_000;

/** What is written with wet hands, often where the signal ends: these pages are here before the connection drops. */
const fetchWriting = (): void => {
  void import('./views/tank.js').catch(() => undefined);
  void import('./views/day.js').catch(() => undefined);
  void import('./views/write.js').catch(() => undefined);
  void import('./views/sheet.js').catch(() => undefined);
  void import('./views/round.js').catch(() => undefined);
};

const Live = () => {
  const { room, close } = useMemo(openLiveRoom, []);
  const { outbox, close: closeOutbox } = useMemo(openOutbox, []);
  useEffect(() => {
    const timer = setTimeout(fetchWriting, FETCH_AHEAD_MS);
    return () => {
      clearTimeout(timer);
      close();
      closeOutbox();
    };
  }, []);
  return (
    <RoomContext.Provider value={room}>
      <OutboxContext.Provider value={outbox}>
        <Shown />
      </OutboxContext.Provider>
    </RoomContext.Provider>
  );
};

/** These say themselves that nothing was heard yet, or need not hear anything. */
const UNHEARD: readonly Route['page'][] = ['room', 'alarm', 'reading', 'bedside', 'unknown'];

/** The view of the address. What asks for a span of time waits for the gateway's clock: a device may hold any date. */
const Shown = () => {
  const room = useRoom();
  const isHeard = useComputed(() => room.picture.value !== undefined).value;
  const now = route.value;
  if (!isHeard && !UNHEARD.includes(now.page))
    return (
      <Page here={now.page}>
        <p class="page-note">Asking the gateway …</p>
      </Page>
    );
  switch (now.page) {
    case 'room':
      return <RoomPage />;
    case 'tank':
      return <Tank key={now.id} id={now.id} />;
    case 'alarm':
      return <Alarm key={now.id} id={now.id} />;
    case 'alarms':
      return <Alarms />;
    case 'sources':
      return <Sources />;
    case 'places':
      return <Places />;
    case 'day':
      return <Day />;
    case 'write':
      return <Write place={now.place} kind={now.kind} corrects={now.corrects} />;
    case 'sheet':
      return <Sheet key={now.id} id={now.id} />;
    case 'round':
      return <Round />;
    case 'limits':
      return <Limits key={now.id} id={now.id} />;
    case 'batches':
      return <Batches />;
    case 'batch':
      return <Batch key={now.id} id={now.id} />;
    case 'runs':
      return <Runs />;
    case 'run':
      return <Run key={now.id} id={now.id} />;
    case 'bench':
      return <Bench />;
    case 'reviews':
      return <Reviews key={`${now.tank} ${now.entry} ${now.start}`} {...now} />;
    case 'review':
      return <Review key={now.id} id={now.id} />;
    case 'history':
      return <History {...now} />;
    case 'papers':
      return <Papers />;
    case 'site':
      return <SitePage />;
    case 'buttons':
      return <Buttons />;
    case 'watch':
      return <Watch />;
    case 'bedside':
      return <Bedside />;
    case 'morning':
      return <Morning />;
    case 'season':
      return <Season />;
    case 'ways-out':
      return <WaysOut />;
    case 'ladders':
      return <Ladders />;
    case 'figures':
      return <Figures />;
    case 'reading':
      return <Reading />;
    default:
      return (
        <Page here="unknown">
          <h1 class="page-title">There is no page here</h1>
          <p class="page-note">The room is under Room.</p>
        </Page>
      );
  }
};
