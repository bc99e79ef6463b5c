// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, it } from 'vitest';
import { alignedAtPoint, asCsv, asTabs, guarded } from './table';

it('a text cell cannot become a formula, a number stays one', () => {
  for (const bad of ['=1+1', '+cmd', '-2+3', '@SUM(A1)', '\t=1', '\n=1', '\0=1', '\uff1d1+1', '\uff20SUM(A1)']) expect(guarded(bad)).toBe(`'${bad}`);
  for (const good of ['-0.4', '+1.5', '-1.2e-3', 'lot A', '']) expect(guarded(good)).toBe(good);
});
it('commas, quotes and line ends are quoted', () => {
  expect(asCsv([['a,b', 'say "x"', '1'], ['=A1', 'two\nlines', '-0.4']])).toBe(
    '"a,b","say ""x""",1\r\n\'=A1,"two\nlines",-0.4\r\n',
  );
});
it('tabs part the clipboard', () => expect(asTabs([['a\tb', '=1'], ['2', '3']])).toBe("a b\t'=1\n2\t3"));
it('numbers meet at their points', () => {
  expect(alignedAtPoint(['1.25', '12', '0.5'])).toEqual(['1.25', '12\u2008\u2007\u2007', '0.5\u2007']);
  expect(alignedAtPoint(['1.25', 'not there'])).toEqual(['1.25', 'not there']); // a word has no point
  // A group's space is narrower than a digit and is made up for by its like.
  expect(alignedAtPoint(['0.3806', '0.006\u202f895', '7'])).toEqual(['0.3806\u2007\u2007\u202f', '0.006\u202f895', '7\u2008\u2007\u2007\u2007\u2007\u2007\u2007\u202f']);
});
