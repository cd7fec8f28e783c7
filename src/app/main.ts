import { mount } from 'svelte';
import App from './App.svelte';
import { openDesk } from './desk-client';
import { House } from './house.svelte';
import './look/base.css';
import './look/fonts';
import './look/tokens.css';
import { layGlyphs } from './parts/glyph-sheet';
import { prefs } from './prefs.svelte';

prefs.show();
layGlyphs(document);
const house = new House(openDesk());
mount(App, { target: document.getElementById('app')!, props: { house } });
house.open().catch((error: unknown) => {
  house.failed = error instanceof Error ? error.message : String(error);
});
