// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { mount } from 'svelte';
import './app.css';
import App from './App.svelte';
import { startListening } from './api/net.svelte';
import { place } from './lib/router.svelte';
import { wishes } from './lib/wishes.svelte';

wishes.start();
place.start();
startListening();
const target = document.getElementById('app');
if (!target) throw new Error('the page has no place for the application');
mount(App, { target });
// A reload works while the server is away; without the worker the pages work all the same.
if (import.meta.env.PROD) void navigator.serviceWorker?.register('/service-worker.js').catch(() => {});
