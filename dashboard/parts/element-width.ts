import { useEffect, useState } from 'preact/hooks';

/** The width of an element in CSS pixels, followed as it changes; 0 until it is known. */
export const useElementWidth = (holder: { readonly current: HTMLElement | null }): number => {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = holder.current;
    if (element === null) return;
    const watcher = new ResizeObserver(() => setWidth(element.clientWidth));
    watcher.observe(element);
    return () => watcher.disconnect();
  }, [holder]);
  return width;
};
