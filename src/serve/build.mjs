// Builds the page into dist/app and the command line into dist/cli.
import { ensureBuilt, ensureInstalled, requireNode } from './ensure.mjs';

requireNode();
await ensureInstalled();
await ensureBuilt('app');
await ensureBuilt('cli');
