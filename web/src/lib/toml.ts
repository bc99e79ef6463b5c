// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Reads the files of the works, TOML 1.0 or JSON with the same keys, so that the pages can change them. What is changed
// is sent as JSON. Dates are not read: no file of the works holds one outside quotes.

export type Value = string | number | boolean | Value[] | Table;
export interface Table {
  [key: string]: Value;
}

/** A file's text as a table; throws a sentence with the line where it cannot be read. */
export function readFile(text: string): Table {
  if (text.trimStart().startsWith('{')) return JSON.parse(text) as Table;
  return new Reader(text).file();
}

const kEscapes: Record<string, string> = { b: '\b', t: '\t', n: '\n', f: '\f', r: '\r', '"': '"', '\\': '\\' };

class Reader {
  private at = 0;
  constructor(private readonly text: string) {}

  file(): Table {
    const root: Table = {};
    let open = root;
    for (;;) {
      this.skip(true);
      if (this.at >= this.text.length) return root;
      if (this.take('[[')) open = this.heading(root, ']]', true);
      else if (this.take('[')) open = this.heading(root, ']', false);
      else this.pair(open);
      this.skip(false);
      if (this.at < this.text.length && this.here() !== '\n') this.fail('the end of the line is expected');
    }
  }

  private heading(root: Table, end: string, list: boolean): Table {
    const keys = this.keys();
    if (!this.take(end)) this.fail(`${end} is expected`);
    const last = keys.pop() ?? '';
    const table = keys.reduce((inside, key) => this.into(inside, key), root);
    if (!list) return this.into(table, last);
    const made: Table = {};
    const row = (table[last] ??= []);
    if (!Array.isArray(row)) this.fail(`${last} is no list`);
    else row.push(made);
    return made;
  }

  private into(table: Table, key: string): Table {
    const found = (table[key] ??= {});
    const inside = Array.isArray(found) ? found[found.length - 1] : found;
    if (typeof inside !== 'object' || Array.isArray(inside)) this.fail(`${key} is no table`);
    return inside as Table;
  }

  private pair(table: Table): void {
    const keys = this.keys();
    if (!this.take('=')) this.fail('= is expected');
    const last = keys.pop() ?? '';
    const inside = keys.reduce((within, key) => this.into(within, key), table);
    if (last in inside) this.fail(`${last} stands twice`);
    inside[last] = this.value();
  }

  private keys(): string[] {
    const keys: string[] = [];
    do {
      this.blank();
      if (this.here() === '"' || this.here() === "'") keys.push(this.string());
      else keys.push(this.match(/[A-Za-z0-9_-]+/y) ?? this.fail('a key is expected'));
      this.blank();
    } while (this.take('.'));
    return keys;
  }

  private value(): Value {
    this.blank();
    const first = this.here();
    if (first === '"' || first === "'") return this.string();
    if (first === '[') return this.list();
    if (first === '{') return this.inline();
    if (this.take('true')) return true;
    if (this.take('false')) return false;
    const word = this.match(/[+-]?(?:0x[0-9a-fA-F_]+|inf|nan|[0-9][0-9_]*(?:\.[0-9_]+)?(?:[eE][+-]?[0-9]+)?)/y);
    const number = Number((word ?? 'x').replace(/_/g, ''));
    return word === undefined || Number.isNaN(number) ? this.fail('a value is expected') : number;
  }

  private list(): Value[] {
    const out: Value[] = [];
    this.take('[');
    for (;;) {
      this.skip(true);
      if (this.take(']')) return out;
      out.push(this.value());
      this.skip(true);
      if (!this.take(',') && this.here() !== ']') this.fail(', or ] is expected');
    }
  }

  private inline(): Table {
    const out: Table = {};
    this.take('{');
    for (;;) {
      this.skip(true);
      if (this.take('}')) return out;
      this.pair(out);
      this.skip(true);
      if (!this.take(',') && this.here() !== '}') this.fail(', or } is expected');
    }
  }

  private string(): string {
    const quote = this.here();
    const long = quote.repeat(3);
    if (this.take(long)) {
      this.take('\r');
      this.take('\n');
      return this.upTo(long, quote === '"', true);
    }
    this.at += 1;
    return this.upTo(quote, quote === '"', false);
  }

  private upTo(end: string, escapes: boolean, lines: boolean): string {
    let out = '';
    while (this.at < this.text.length) {
      if (this.take(end)) return out;
      const c = this.here();
      if (c === '\n' && !lines) break;
      this.at += 1;
      out += c === '\\' && escapes ? this.escape(lines) : c;
    }
    return this.fail(`${end} is expected`);
  }

  private escape(lines: boolean): string {
    const c = this.here();
    this.at += 1;
    if (c === 'u' || c === 'U') {
      const digits = this.match(c === 'u' ? /[0-9a-fA-F]{4}/y : /[0-9a-fA-F]{8}/y) ?? this.fail('hexadecimal digits are expected');
      return String.fromCodePoint(parseInt(digits, 16));
    }
    if (lines && /\s/.test(c)) {
      this.match(/\s*/y);
      return '';
    }
    return kEscapes[c] ?? this.fail(`\\${c} means nothing`);
  }

  private here(): string {
    return this.text.charAt(this.at);
  }
  private take(word: string): boolean {
    if (!this.text.startsWith(word, this.at)) return false;
    this.at += word.length;
    return true;
  }
  private match(pattern: RegExp): string | undefined {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text)?.[0];
    if (found !== undefined) this.at += found.length;
    return found;
  }
  private blank(): void {
    this.match(/[ \t]*/y);
  }
  /** Blanks and a comment; with `lines` also the ends of lines. */
  private skip(lines: boolean): void {
    this.match(lines ? /(?:[ \t\r\n]+|#[^\n]*)*/y : /[ \t\r]*(?:#[^\n]*)?/y);
  }
  private fail(what: string): never {
    const line = this.text.slice(0, this.at).split('\n').length;
    throw new Error(`line ${line}: ${what}`);
  }
}
