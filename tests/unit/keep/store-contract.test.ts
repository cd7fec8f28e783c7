import 'fake-indexeddb/auto';
import { BrowserBytes } from '../../../src/keep/browser-bytes';
import { MemoryBytes } from '../../../src/keep/byte-store';
import { DocumentStore } from '../../../src/keep/document-store';
import { MemoryStore } from '../../../src/keep/memory-store';
import { storeContract } from './store-contract';

let places = 0;

storeContract('MemoryStore', async () => {
  // Memory is all there is: opening it again is to go on with it.
  const store = new MemoryStore();
  return { open: async () => store };
});

storeContract('DocumentStore in memory', async () => {
  const bytes = new MemoryBytes();
  return { open: async () => new DocumentStore(bytes) };
});

storeContract(
  'DocumentStore in the browser',
  async () => {
    const name = `place-${++places}`;
    return { open: async () => new DocumentStore(await BrowserBytes.open(name)) };
  },
  12,
);
