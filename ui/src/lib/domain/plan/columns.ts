/** A place on the ground with its level. */
export const SPOT_COLUMNS = [
  { key: 'x', head: 'cell.x_m', json: 'x_m', kind: 'signed' },
  { key: 'y', head: 'cell.y_m', json: 'y_m', kind: 'signed' },
  { key: 'mm', head: 'cell.mm', json: 'mm', kind: 'signed' },
] as const;

/** A place along an edge with its level. */
export const LEVEL_COLUMNS = [
  { key: 'at', head: 'levels.at', json: 'at_m', kind: 'number' },
  { key: 'mm', head: 'cell.mm', json: 'mm', kind: 'signed' },
] as const;
