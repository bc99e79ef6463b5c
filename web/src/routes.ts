// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Every address and its page. Pages are loaded when they are first opened.
import { hasPage } from './lib/address';
import type { Route } from './lib/router.svelte';

hasPage('recipe', 'lot');

export const routes: Route[] = [
  { path: '/', title: 'Today', area: 'today', page: () => import('./pages/Today.svelte') },
  { path: '/today', title: 'Today', area: 'today', page: () => import('./pages/Today.svelte') },
  { path: '/waters', title: 'Waters', area: 'waters', page: () => import('./pages/waters/Waters.svelte') },
  { path: '/materials', title: 'Materials', area: 'materials', page: () => import('./pages/materials/Materials.svelte') },
  { path: '/materials/lots/:id*', title: 'Lot', area: 'materials', page: () => import('./pages/materials/Lot.svelte') },
  { path: '/materials/suppliers/:id*', title: 'Supplier', area: 'materials', page: () => import('./pages/materials/Supplier.svelte') },
  { path: '/materials/:id*', title: 'Material', area: 'materials', page: () => import('./pages/materials/Material.svelte') },
  { path: '/recipes', title: 'Recipes', area: 'recipes', page: () => import('./pages/recipes/List.svelte') },
  { path: '/recipes/workbench', title: 'Recipe workbench', area: 'recipes', page: () => import('./pages/recipes/Workbench.svelte') },
  { path: '/recipes/vat', title: 'Vat', area: 'recipes', page: () => import('./pages/vat/Vat.svelte') },
  { path: '/recipes/bag', title: 'Dry bag', area: 'recipes', page: () => import('./pages/bag/Bag.svelte') },
  { path: '/recipes/scoops', title: 'Scoops', area: 'recipes', page: () => import('./pages/scoops/Scoops.svelte') },
  { path: '/recipes/instruments', title: 'Instruments', area: 'recipes', page: () => import('./pages/instruments/Instruments.svelte') },
  { path: '/recipes/:id*', title: 'Recipe version', area: 'recipes', page: () => import('./pages/recipes/Version.svelte') },
  { path: '/batches', title: 'Batches', area: 'batches', page: () => import('./pages/batches/List.svelte') },
  { path: '/batches/:id', title: 'Batch', area: 'batches', page: () => import('./pages/batches/Batch.svelte') },
  { path: '/batches/:id/sheet', title: 'Batch sheet', area: 'batches', page: () => import('./pages/batches/Sheet.svelte') },
  { path: '/batches/:id/weigh', title: 'Weighing', area: 'batches', page: () => import('./pages/batches/Weigh.svelte') },
  { path: '/tests', title: 'Tests', area: 'tests', page: () => import('./pages/tests/Home.svelte') },
  { path: '/tests/enter', title: 'Enter results', area: 'tests', page: () => import('./pages/tests/Enter.svelte') },
  { path: '/tests/import', title: 'Import a table', area: 'tests', page: () => import('./pages/tests/Import.svelte') },
  { path: '/tests/trend', title: 'Trend chart', area: 'tests', page: () => import('./pages/tests/TrendPage.svelte') },
  { path: '/tests/titration', title: 'Titration curve', area: 'tests', page: () => import('./pages/tests/Titration.svelte') },
  { path: '/tests/homogeneity', title: 'Homogeneity', area: 'tests', page: () => import('./pages/tests/Homogeneity.svelte') },
  { path: '/tests/runs/:id', title: 'Run', area: 'tests', page: () => import('./pages/tests/RunPage.svelte') },
  { path: '/tests/samples/:id', title: 'Sample', area: 'tests', page: () => import('./pages/tests/SamplePage.svelte') },
  { path: '/release', title: 'Release', area: 'release', page: () => import('./pages/release/List.svelte') },
  { path: '/release/:id', title: 'Release of batch', area: 'release', page: () => import('./pages/release/Evidence.svelte') },
  { path: '/trace/:id*', title: 'Where the figures come from:', area: 'release', page: () => import('./pages/trace/Trace.svelte') },
  { path: '/find', title: 'Find', area: '', page: () => import('./pages/Find.svelte') },
  { path: '/trail/verify', title: 'Verify the trail', area: '', page: () => import('./pages/TrailVerify.svelte') },
  { path: '/people', title: 'People', area: '', page: () => import('./pages/people/People.svelte') },
  { path: '/trail', title: 'Trail', area: '', page: () => import('./pages/Trail.svelte') },
  { path: '/records/:kind', title: 'Records', area: '', page: () => import('./pages/Records.svelte') },
  { path: '/records/:kind/:id*', title: 'Record', area: '', page: () => import('./pages/Record.svelte') },
];

export interface Area {
  name: string;
  address: string;
  title: string;
  holds: string;
}
export const areas: Area[] = [
  { name: 'today', address: '/', title: 'Today', holds: 'what waits, what is late' },
  { name: 'waters', address: '/waters', title: 'Waters', holds: 'target waters, purified water, comparisons' },
  { name: 'materials', address: '/materials', title: 'Materials', holds: 'materials, suppliers, lots' },
  { name: 'recipes', address: '/recipes', title: 'Recipes', holds: 'versions, predictions, dissolution paths' },
  { name: 'batches', address: '/batches', title: 'Batches', holds: 'batch sheets, weighing, yield, departures' },
  { name: 'tests', address: '/tests', title: 'Tests', holds: 'samples, runs, results, trend charts' },
  { name: 'release', address: '/release', title: 'Release', holds: 'decisions, certificates, mixing sheets' },
];
