// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Instants as they are kept, in UTC, with the zone named.

/** "2026-07-02 06:21 UTC" */
export function when(instant: string): string {
  const match = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})/.exec(instant);
  return match ? `${match[1]} ${match[2]} UTC` : instant;
}

/** "06:21 UTC" where it was today, else with its day: what was weighed before the night is not taken for today's. */
export function atScale(instant: string, now: string): string {
  return instant.slice(0, 10) === now.slice(0, 10) ? when(instant).slice(11) : when(instant);
}

/** "3 days", "2 h", "5 min": how long ago. */
export function age(instant: string, now: string): string {
  const minutes = Math.floor((Date.parse(now) - Date.parse(instant)) / 60_000);
  if (!Number.isFinite(minutes)) return '';
  if (minutes < 1) return 'just now';
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return `${hours} h`;
  return `${Math.floor(hours / 24)} days`;
}
