// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Where a sentence may stand over the page for a moment without covering what is typed into or pressed.

export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}
interface Size {
  width: number;
  height: number;
}
const kGap = 16;
const kStep = 24;
/** Room left around what is pressed. */
const kApart = 4;

const meets = (a: Box, b: Box) => a.left < b.right + kApart && b.left < a.right + kApart && a.top < b.bottom + kApart && b.top < a.bottom + kApart;

/** The lowest free place, left before right before middle; undefined where there is none. */
export function freePlace(size: Size, view: Size, taken: Box[]): { left: number; top: number } | undefined {
  const lefts = [kGap, view.width - kGap - size.width, (view.width - size.width) / 2];
  for (let top = view.height - kGap - size.height; top >= 0; top -= kStep) {
    for (const left of lefts) {
      const box = { left, top, right: left + size.width, bottom: top + size.height };
      if (left >= 0 && !taken.some((other) => meets(box, other))) return { left, top };
    }
  }
  return undefined;
}

const kPressed = 'a, button, input, select, textarea, summary, label, [tabindex="0"]:not(.scroll)';

/** What is pressed or typed into and can be seen now. */
export function pressedInSight(view: Size): Box[] {
  return [...document.querySelectorAll(kPressed)]
    .map((element) => element.getBoundingClientRect())
    .filter((box) => box.width > 0 && box.height > 0 && box.bottom > 0 && box.right > 0 && box.top < view.height && box.left < view.width);
}
