import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { clearFolder } from './clear-folder';
import type { TraceEvent } from './screen-tasks';

/**
 * A Chromium asked over its debugging pipe (Chrome DevTools Protocol, messages of JSON that end in NUL) and otherwise left alone. Playwright
 * stops each worker of a page until it has looked at it, which takes longer than what is measured here; a reader's browser does not.
 */
export class PlainChromium {
  readonly #folder = mkdtempSync(join(tmpdir(), 'bookweft-browser-'));
  readonly #process: ChildProcess;
  readonly #waiting = new Map<number, (said: { result?: unknown; error?: unknown }) => void>();
  /** What to do when the browser tells something unasked, by its name. */
  readonly #told = new Map<string, (params: unknown) => void>();
  #asked = 0;
  #heard = '';

  constructor(executablePath: string, args: readonly string[]) {
    this.#process = spawn(
      executablePath,
      [
        ...args,
        '--headless',
        '--window-size=1440,900',
        '--remote-debugging-pipe',
        `--user-data-dir=${this.#folder}`,
        'about:blank',
      ],
      { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] },
    );
    (this.#process.stdio[4] as Readable).on('data', (bytes: Buffer) => this.#hear(bytes));
  }

  #hear(bytes: Buffer): void {
    const parts = (this.#heard + bytes.toString('utf8')).split('\0');
    this.#heard = parts.pop()!;
    for (const part of parts) {
      const said = JSON.parse(part) as {
        id?: number;
        method?: string;
        params?: unknown;
        result?: unknown;
        error?: unknown;
      };
      if (said.id === undefined) {
        this.#told.get(said.method ?? '')?.(said.params);
        continue;
      }
      this.#waiting.get(said.id)?.(said);
      this.#waiting.delete(said.id);
    }
  }

  /** @throws Error with what the browser said */
  async ask<T>(method: string, params: object = {}, sessionId?: string): Promise<T> {
    const id = ++this.#asked;
    const answer = new Promise<{ result?: unknown; error?: unknown }>((resolve) =>
      this.#waiting.set(id, resolve),
    );
    const question = { id, method, params, ...(sessionId ? { sessionId } : {}) };
    (this.#process.stdio[3] as Writable).write(`${JSON.stringify(question)}\0`);
    const { result, error } = await answer;
    if (error) throw new Error(`${method}: ${JSON.stringify(error)}`);
    return result as T;
  }

  /** Opens a page; `before` runs in it ahead of anything of its own. */
  async open(url: string, before = ''): Promise<PlainPage> {
    const { targetId } = await this.ask<{ targetId: string }>('Target.createTarget', {
      url: 'about:blank',
    });
    const { sessionId } = await this.ask<{ sessionId: string }>('Target.attachToTarget', {
      targetId,
      flatten: true,
    });
    const page = new PlainPage(this, targetId, sessionId);
    await page.ask('Page.enable');
    await page.ask('Page.addScriptToEvaluateOnNewDocument', { source: before });
    await page.ask('Page.navigate', { url });
    return page;
  }

  /** What the browser does while something runs, as it traces it. */
  async traced(run: () => Promise<void>): Promise<TraceEvent[]> {
    const complete = new Promise<string>((resolve) => {
      this.#told.set('Tracing.tracingComplete', (params) =>
        resolve((params as { stream: string }).stream),
      );
    });
    const includedCategories = ['disabled-by-default-devtools.timeline', 'devtools.timeline'];
    await this.ask('Tracing.start', {
      transferMode: 'ReturnAsStream',
      traceConfig: { includedCategories },
    });
    await run();
    await this.ask('Tracing.end');
    const handle = await complete;
    let [text, eof] = ['', false];
    while (!eof) {
      const read = await this.ask<{ data: string; eof: boolean }>('IO.read', { handle });
      text += read.data;
      eof = read.eof;
    }
    await this.ask('IO.close', { handle });
    return (JSON.parse(text) as { traceEvents: TraceEvent[] }).traceEvents;
  }

  async close(): Promise<void> {
    const gone = new Promise((resolve) => this.#process.once('exit', resolve));
    await this.ask('Browser.close').catch(() => undefined);
    await gone;
    clearFolder(this.#folder);
  }
}

export class PlainPage {
  constructor(
    readonly browser: PlainChromium,
    readonly targetId: string,
    readonly sessionId: string,
  ) {}

  ask<T>(method: string, params: object = {}): Promise<T> {
    return this.browser.ask<T>(method, params, this.sessionId);
  }

  /** What an expression comes to in the page, awaited; plain data. */
  async value<T>(expression: string): Promise<T> {
    const { result, exceptionDetails } = await this.ask<{
      result: { value: T };
      exceptionDetails?: { text: string };
    }>('Runtime.evaluate', { expression, awaitPromise: true, returnByValue: true });
    if (exceptionDetails) throw new Error(`${exceptionDetails.text} in ${expression}`);
    return result.value;
  }

  /** Waits until an expression is true. @throws Error after `mostMs` */
  async until(expression: string, mostMs = 90_000): Promise<void> {
    for (const began = Date.now(); Date.now() - began < mostMs;) {
      if (await this.value<boolean>(`Boolean(${expression})`)) return;
      await new Promise((resolve) => {
        setTimeout(resolve, 50);
      });
    }
    throw new Error(`Waited ${mostMs} ms for ${expression}`);
  }

  async chooseFile(selector: string, path: string): Promise<void> {
    const { root } = await this.ask<{ root: { nodeId: number } }>('DOM.getDocument');
    const { nodeId } = await this.ask<{ nodeId: number }>('DOM.querySelector', {
      nodeId: root.nodeId,
      selector,
    });
    await this.ask('DOM.setFileInputFiles', { nodeId, files: [path] });
  }

  async close(): Promise<void> {
    await this.browser.ask('Target.closeTarget', { targetId: this.targetId });
  }
}
