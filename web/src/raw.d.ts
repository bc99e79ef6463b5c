// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// A file of the source tree as text: the invented examples that pages can be tried with.
declare module '*?raw' {
  const text: string;
  export default text;
}
