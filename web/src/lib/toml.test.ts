// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readFile } from './toml';

const kExamples = '../examples/works/';

describe('files of the works', () => {
  it('reads tables, lists of tables, inline tables and comments', () => {
    const text = 'a = "x # y" # z\n[[m]]\nn = "1"\nassay = { low = "97 %", of = [1, 2.5, true], }\n[[m]]\nn = \'2\'\n[w.u]\nk-k = -1_000\n';
    expect(readFile(text)).toEqual({
      a: 'x # y',
      m: [{ n: '1', assay: { low: '97 %', of: [1, 2.5, true] } }, { n: '2' }],
      w: { u: { 'k-k': -1000 } },
    });
  });
  it('reads escapes, long strings and dotted keys', () => {
    expect(readFile('a.b = "\\u00b5 \\"q\\""\nl = """\none\ntwo"""')).toEqual({ a: { b: 'µ "q"' }, l: 'one\ntwo' });
  });
  it('reads JSON as it is', () => expect(readFile(' {"kind":"target"}')).toEqual({ kind: 'target' }));
  it('names the line of what it cannot read', () => {
    expect(() => readFile('a = 1\nb = ')).toThrow('line 2');
    expect(() => readFile('a = 1\na = 2')).toThrow('a stands twice');
    expect(() => readFile('a = "x')).toThrow('" is expected');
  });
  it('reads every example', () => {
    const names = readdirSync(kExamples).filter((name) => name.endsWith('.toml'));
    expect(names.length).toBeGreaterThan(8);
    for (const name of names) expect(readFile(readFileSync(kExamples + name, 'utf8'))['format']).toBe('brinewright/1');
    const target = readFile(readFileSync(`${kExamples}raised.toml`, 'utf8'));
    expect((target['constituent'] as Array<Record<string, string>>)[0]).toEqual({
      symbol: 'Ca', target: '445 mg/L', low: '440 mg/L', high: '450 mg/L', priority: 1,
    });
  });
});
