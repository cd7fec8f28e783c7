/**
 * The first thing to run: it starts the worker, then fetches the screens. Both load side by side, because a worker whose window is busy
 * drawing does not start before that is done.
 */
import './desk-worker';
import './look/base.css';
import './look/forms.css';
import './look/fonts';
import './look/tokens.css';
import { part } from './places';
import { readRoute } from './routes';

void import('./main');
void part(readRoute(location.hash).place).catch(() => undefined);
