import type { Component } from 'svelte';

import type { Table } from './lib/state/route';

/** Screens whose script is read when they are first opened: nobody's first screen. */
export const LATER = {
  plan: () => import('./screens/Plan.svelte'),
  paper: () => import('./screens/Paper.svelte'),
  data: () => import('./screens/Data.svelte'),
  checkPaper: () => import('./screens/CheckPaper.svelte'),
  sign: () => import('./screens/Sign.svelte'),
  change: () => import('./screens/Change.svelte'),
  tables: () => import('./screens/Tables.svelte'),
  settings: () => import('./screens/Settings.svelte'),
  order: () => import('./screens/OrderList.svelte'),
  courses: () => import('./screens/Courses.svelte'),
  site: () => import('./screens/OnSite.svelte'),
  delivery: () => import('./screens/Delivery.svelte'),
} as const;

/** Each table by its name. */
export const TABLE: Record<Table, () => Promise<{ default: Component<{ job: string | null }> }>> = {
  levels: () => import('./screens/LevelBook.svelte'),
  curve: () => import('./screens/Curve.svelte'),
  fall: () => import('./screens/Falls.svelte'),
  passes: () => import('./screens/PassesFor.svelte'),
  drop: () => import('./screens/DropTest.svelte'),
  mix: () => import('./screens/Mix.svelte'),
  swell: () => import('./screens/Swell.svelte'),
  vibration: () => import('./screens/Vibration.svelte'),
};
