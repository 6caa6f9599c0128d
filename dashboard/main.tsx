import { render } from 'preact';
import { App } from './app.js';
import { followLight } from './state/light.js';

followLight(document.documentElement, keptHere());
const page = document.getElementById('page');
if (page !== null) render(<App />, page);

/** Reading storage throws where the browser forbids it; the choice of light is then simply not kept. */
function keptHere(): Storage | undefined {
  try {
    return localStorage;
  } catch {
    return undefined;
  }
}
