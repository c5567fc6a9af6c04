#!/usr/bin/env node
// The `talkround` command: makes sure that it is installed and built, then runs.
import { pathToFileURL } from 'node:url';
import { join } from 'node:path';
import { ensureBuilt, ensureInstalled, requireNode, root } from '../serve/ensure.mjs';

requireNode();
await ensureInstalled();
await ensureBuilt('cli');
const { main } = await import(pathToFileURL(join(root, 'dist', 'cli', 'main.js')).href);
process.exitCode = await main(process.argv.slice(2));
