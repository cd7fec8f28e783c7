import { mount } from 'svelte';
import App from './App.svelte';
import { openDesk } from './desk-client';
import { House } from './house.svelte';
import { layGlyphs } from './parts/glyph-sheet';
import { fetchParts } from './places';
import { prefs } from './prefs.svelte';
import { seenAboveKeyboard } from './seen-above-keyboard';

prefs.show();
seenAboveKeyboard();
layGlyphs(document);
const house = new House(openDesk());
// Asked before anything is drawn: the journal opens meanwhile.
const opening = house.open();
mount(App, { target: document.getElementById('app')!, props: { house } });
const QUIET_MS = 2000;
opening
  .then(() => setTimeout(fetchParts, QUIET_MS))
  .catch((error: unknown) => {
    house.failed = error instanceof Error ? error.message : String(error);
  });
