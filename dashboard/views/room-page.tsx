import { useEffect, useState } from 'preact/hooks';
import { List } from './list.js';
import { Wall } from './wall.js';

/** A screen as wide as a wall or a desk shows the wall; anything narrower the list. */
const WIDE = '(min-width: 1100px) and (min-aspect-ratio: 4/3)';

export const RoomPage = () => (useMedia(WIDE) ? <Wall /> : <List />);

const useMedia = (query: string): boolean => {
  const [matches, setMatches] = useState(() => matchMedia(query).matches);
  useEffect(() => {
    const media = matchMedia(query);
    const follow = (): void => setMatches(media.matches);
    follow();
    media.addEventListener('change', follow);
    return () => media.removeEventListener('change', follow);
  }, [query]);
  return matches;
};
