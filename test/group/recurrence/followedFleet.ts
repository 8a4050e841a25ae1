/** A fleet taken as groups by material without any fit: what recurrence asks of a grouped fleet. */
import { lifeRow } from '../../../lib/fleet/lifeRows.js';
import type { Fleet } from '../../../lib/fleet/types.js';
import type { GroupedFleet } from '../../../lib/group/types.js';
import { at } from '../../../lib/numeric/columns.js';

export function followedFleet(fleet: Fleet, leaksWithoutReason = 0): GroupedFleet {
  const rows = Array.from({ length: fleet.lives.length }, (_, life) => ({
    life,
    row: lifeRow(fleet, life, 'leak'),
  })).flatMap(({ life, row }) => (row.kind === 'set aside' ? [] : [{ life, row }]));
  const leaked = rows.map(({ row }) => row.kind === 'failed');
  return {
    groups: fleet.materials.map((name) => ({ name })) as GroupedFleet['groups'],
    running: [],
    notes: [],
    leaksWithoutReason,
    followed: {
      length: rows.length,
      life: Int32Array.from(rows, ({ life }) => life),
      group: Int32Array.from(rows, ({ life }) => at(fleet.lives.material, life)),
      entry: Float64Array.from(rows, ({ row }) => row.entry),
      lower: Float64Array.from(rows, ({ row }, i) => (leaked[i] ? Math.max(row.lower, row.entry) : row.age)),
      upper: Float64Array.from(rows, ({ row }, i) => (leaked[i] ? row.upper : row.age)),
      leak: Uint8Array.from(leaked, Number),
    },
    warnings: [],
  };
}
