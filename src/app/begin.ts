/**
 * The first thing to run: it starts the worker, then fetches the screens. Both load side by side, because a worker whose window is busy
 * drawing does not start before that is done.
 */
import './desk-worker';
import './look/base.css';
import './look/fonts';
import './look/tokens.css';

void import('./main');
