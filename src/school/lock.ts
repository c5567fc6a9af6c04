import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * The embedded database has one owner: two would ruin it. Throws one sentence while
 * another process has the folder; what a killed one left is taken over.
 *
 * @returns how to give it back
 */
export function lockFolder(folder: string): () => void {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const file = join(folder, 'owner');
  const own = String(process.pid);
  for (let tries = 0; ; tries += 1) {
    try {
      writeFileSync(file, own, { flag: 'wx', mode: 0o600 });
      return () => {
        if (ownerIn(file) === process.pid) rmSync(file, { force: true });
      };
    } catch (error) {
      const owner = ownerIn(file);
      if (tries > 0 || (owner !== null && owner !== process.pid && isAlive(owner)))
        throw new Error(
          `The school in ${folder} is open in another process (${owner ?? '?'}). Stop that one first.`,
          { cause: error },
        );
      rmSync(file, { force: true });
    }
  }
}

function ownerIn(file: string): number | null {
  try {
    const pid = Number(readFileSync(file, 'utf8'));
    return Number.isInteger(pid) && pid > 0 ? pid : null;
  } catch {
    return null;
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // It is there, and somebody else's.
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
