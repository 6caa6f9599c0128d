/** Whether a subscription's filter covers a topic (MQTT 5.0 section 4.7): `+` one level, `#` all that follow. */
export const filterCovers = (filter: string, topic: string): boolean => {
  // [section 4.7.2] a wildcard in the first level does not cover the broker's own topics.
  if (topic.startsWith('$') && !filter.startsWith('$')) return false;
  const wanted = filter.split('/');
  const levels = topic.split('/');
  for (const [at, level] of wanted.entries()) {
    if (level === '#') return true;
    if (at >= levels.length || (level !== '+' && level !== levels[at])) return false;
  }
  return wanted.length === levels.length;
};
