import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';

/** A view whose code is fetched when it is first shown, so that a phone at night loads only the page it needs. */
export const later = <Props extends object>(fetch: () => Promise<ComponentType<Props>>): ComponentType<Props> => {
  let kept: ComponentType<Props> | undefined;
  return (props: Props) => {
    const [View, setView] = useState<ComponentType<Props> | undefined>(() => kept);
    const [failed, setFailed] = useState(false);
    useEffect(() => {
      if (kept !== undefined) return;
      fetch().then(
        (view) => {
          kept = view;
          setView(() => view);
        },
        () => setFailed(true),
      );
    }, []);
    if (failed) return <p class="page-note">This page could not be fetched. Load it again when the gateway answers.</p>;
    return View === undefined ? null : <View {...props} />;
  };
};
