// The libraries lie with the screens that they look at.
import { createRequire } from 'node:module';

const require = createRequire(new URL('../../ui/package.json', import.meta.url));

export const { chromium, devices, selectors } = require('playwright-core');
export const { source: axeSource } = require('axe-core');
