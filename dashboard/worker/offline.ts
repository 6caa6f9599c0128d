/** What the pages left for the hour without network: sentences only, made while there was one. */
export type KeptPage = {
  readonly title: string;
  readonly lines: readonly string[];
  readonly savedAt: string;
};

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

/** A whole page in one answer: no script, no other file, readable at night. */
export const offlinePage = (kept: KeptPage | undefined): string => {
  const lines = kept?.lines ?? ['Nothing was kept on this device yet: open Nightwater once while it can be reached.'];
  const title = kept?.title ?? 'Nightwater cannot be reached';
  const saved =
    kept === undefined ? '' : `<p>As known at ${escaped(kept.savedAt)}. Measure by hand before you rely on it.</p>`;
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="dark light"><style>body{margin:24px;font:20px/1.4 system-ui}</style>
<title>${escaped(title)}</title><link rel="icon" href="data:,"></head>
<body><main><h1>Nightwater cannot be reached</h1>
<p>Nobody sees the readings on this device now. If the power is off, these tanks need somebody in this order:</p>
<h2>${escaped(title)}</h2><ol>${lines.map((line) => `<li>${escaped(line)}</li>`).join('')}</ol>${saved}
<p>Cut the power before you touch water that tingles. Tell somebody where you are going, and when you will be back.</p>
</main></body></html>`;
};
