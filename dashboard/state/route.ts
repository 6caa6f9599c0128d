/** Every page and its address. `room` is the wall on a wide screen and the list on a phone. */
export type Route =
  | { readonly page: 'room' }
  | { readonly page: 'tank'; readonly id: string }
  | { readonly page: 'alarms' }
  | { readonly page: 'alarm'; readonly id: string }
  | { readonly page: 'sources' }
  | { readonly page: 'places' }
  | { readonly page: 'parts'; readonly room?: string }
  | { readonly page: 'sign-in' }
  | { readonly page: 'unknown'; readonly path: string };

const PLAIN = ['alarms', 'sources', 'places', 'sign-in'] as const;
const isPlain = (text: string): text is (typeof PLAIN)[number] => PLAIN.some((page) => page === text);

/** The page of an address (path and query); the inverse of `makeRoute`. */
export const parseRoute = (address: string): Route => {
  const [path = '', query = ''] = address.split('?');
  const [first = '', second, ...rest] = path.split('/').filter((level) => level !== '');
  const unknown: Route = { page: 'unknown', path };
  if (rest.length > 0) return unknown;
  if (second !== undefined) {
    const id = decoded(second);
    if (id === undefined) return unknown;
    if (first === 'tanks') return { page: 'tank', id };
    return first === 'alarms' ? { page: 'alarm', id } : unknown;
  }
  if (first === '') return { page: 'room' };
  if (first === 'parts') {
    const room = new URLSearchParams(query).get('room');
    return room === null ? { page: 'parts' } : { page: 'parts', room };
  }
  return isPlain(first) ? { page: first } : unknown;
};

export const makeRoute = (route: Route): string => {
  switch (route.page) {
    case 'room':
      return '/';
    case 'tank':
      return `/tanks/${encodeURIComponent(route.id)}`;
    case 'alarm':
      return `/alarms/${encodeURIComponent(route.id)}`;
    case 'parts':
      return route.room === undefined ? '/parts' : `/parts?${new URLSearchParams({ room: route.room })}`;
    case 'unknown':
      return route.path;
    default:
      return `/${route.page}`;
  }
};

const decoded = (text: string): string | undefined => {
  try {
    return decodeURIComponent(text);
  } catch {
    return undefined;
  }
};
