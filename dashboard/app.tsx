import { route } from './state/address.js';
import { Parts } from './views/parts.js';

export const App = () => {
  const now = route.value;
  return now.page === 'parts' ? <Parts room={now.room} /> : null;
};
