// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// A server of its own over a copy of the invented works' books, and people who ask it.
import { spawn } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { randomUUID } from 'node:crypto';

/** Begins to serve; answers when the program has said where. */
async function serve(program, works, folder, port) {
  const child = spawn(program, ['serve', '--books', join(folder, 'books'), '--key', join(works, 'works.key'), '--port', String(port)]);
  let said = '';
  const base = await new Promise((resolve, reject) => {
    const tell = (data) => {
      said += data;
      const found = /at (http:\/\/[^/]+)\//.exec(said);
      if (found) resolve(found[1]);
    };
    child.stdout.on('data', tell);
    child.stderr.on('data', tell);
    child.on('exit', (code) => reject(new Error(`the server ended with ${code}: ${said}`)));
  });
  return { child, base };
}

function ended(child) {
  return new Promise((resolve) => {
    child.removeAllListeners('exit');
    if (child.exitCode !== null || child.signalCode !== null) return resolve(child.exitCode); // it is away already
    child.on('exit', resolve);
    child.kill('SIGTERM');
  });
}

/** @param {string} program @param {string} works folder of examples/quarter/run.py --at-work */
export async function startServer(program, works) {
  const folder = mkdtempSync(join(tmpdir(), 'pages-'));
  cpSync(join(works, 'books'), join(folder, 'books'), { recursive: true });
  let { child, base } = await serve(program, works, folder, 0);
  return {
    base,
    folder,
    /** The server goes away: nothing answers at its address. */
    away: () => ended(child),
    /** It comes back over the same books, at the same address. */
    back: async () => {
      ({ child } = await serve(program, works, folder, new URL(base).port));
    },
    stop: async () => {
      const code = await ended(child);
      rmSync(folder, { recursive: true, force: true });
      return code;
    },
  };
}

export const passwordOf = (person) => `an invented password of ${person}`;

/** Somebody at a desk: asks, and writes with the form token. `seen` is told every question and its answer. */
export class Person {
  constructor(base, id, seen = () => {}) {
    this.base = base;
    this.id = id;
    this.seen = seen;
    this.heads = {};
  }
  async ask(method, path, body) {
    const heads = { ...this.heads };
    if (body !== undefined) heads['Content-Type'] = 'application/json';
    const answer = await fetch(this.base + path, { method, headers: heads, body: body && JSON.stringify(body) });
    const bytes = Buffer.from(await answer.arrayBuffer());
    const type = answer.headers.get('content-type') ?? '';
    const json = type.includes('json') && bytes.length > 0 ? JSON.parse(bytes.toString()) : undefined;
    this.seen(method, path, body, answer.status, type, json ?? bytes);
    return { status: answer.status, json, bytes, heads: answer.headers };
  }
  async signIn() {
    const { status, json, heads } = await this.ask('POST', '/api/v1/session', { person: this.id, password: passwordOf(this.id) });
    if (status !== 200) throw new Error(`${this.id} cannot sign in: ${JSON.stringify(json)}`);
    this.heads = { Cookie: heads.get('set-cookie').split(';')[0], 'Form-Token': json.form_token };
    return this;
  }
  async get(path) {
    const { status, json, bytes } = await this.ask('GET', path);
    if (status !== 200) throw new Error(`${path}: ${status} ${bytes.toString().slice(0, 400)}`);
    return json ?? bytes;
  }
  async act(name, order, { why = 'as planned', signed = false, wanted = 200 } = {}) {
    const body = { request: randomUUID(), why, order };
    if (signed) body.signing = { password: passwordOf(this.id) };
    const { status, json } = await this.ask('POST', `/api/v1/act/${name}`, body);
    if (status !== wanted) throw new Error(`${name} by ${this.id}: ${status} ${JSON.stringify(json)}`);
    return json;
  }
  async compute(name, files, given, wanted = 200) {
    const { status, json } = await this.ask('POST', `/api/v1/compute/${name}`, { files, given });
    if (status !== wanted) throw new Error(`${name}: ${status} ${JSON.stringify(json).slice(0, 400)}`);
    return json;
  }
}

export const textOf = (path) => readFileSync(path, 'utf8');
