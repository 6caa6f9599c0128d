import { computed, signal } from '@preact/signals';
import { makeRoute, parseRoute, type Route } from './route.js';

const address = signal(typeof location === 'undefined' ? '/' : location.pathname + location.search);

/** The page that is shown. */
export const route = computed(() => parseRoute(address.value));

/** Shows another page; `replace` leaves no way back to this one. */
export const go = (to: Route, { replace = false }: { readonly replace?: boolean } = {}): void => {
  const path = makeRoute(to);
  if (replace) history.replaceState(null, '', path);
  else history.pushState(null, '', path);
  address.value = path;
  scrollTo(0, 0);
};

/** Follows the back button and ordinary links of this site; returns what undoes it. */
export const followAddress = (): (() => void) => {
  const onBack = (): void => {
    address.value = location.pathname + location.search;
  };
  const onClick = (event: MouseEvent): void => {
    const link = event.target instanceof Element ? event.target.closest('a') : null;
    if (link === null || event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    if (link.origin !== location.origin || link.target !== '' || link.pathname.startsWith('/api/')) return;
    event.preventDefault();
    go(parseRoute(link.pathname + link.search));
  };
  addEventListener('popstate', onBack);
  document.addEventListener('click', onClick);
  return () => {
    removeEventListener('popstate', onBack);
    document.removeEventListener('click', onClick);
  };
};
