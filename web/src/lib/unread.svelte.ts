// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// How many fields on the page hold what cannot be read: what is worked out beside them is not of them.
let count = $state(0);

export const unread = {
  get fields(): number {
    return count;
  },
  /** Counts a field in; the answer counts it out. */
  count(): () => void {
    count += 1;
    return () => {
      count -= 1;
    };
  },
};
