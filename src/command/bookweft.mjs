#!/usr/bin/env node
/** The command line's first step: makes the checkout ready when it must, then hands over to the built program. */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureBuilt, ensureModules, top } from './ready.mjs';

ensureModules();
ensureBuilt('command');
await import(pathToFileURL(join(top, 'dist', 'command', 'main.js')).href);
