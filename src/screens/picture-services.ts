import type { Shown } from '#shared/picture';
import type { Outcome } from './services.ts';

/** Pictures of findings and squawks, as the screens ask for them. */
export interface PictureServices {
  /** Attaches a picture to a finding of the walk in progress. */
  attach(finding: string, file: File): Promise<Outcome>;
  attachToSquawk(squawk: string, file: File): Promise<Outcome>;
  /** Its bytes as far as they are here. */
  open(picture: string, hash: string): Promise<Outcome<Shown>>;
  /** Erases its bytes for good; the log says so, and why. */
  erase(picture: string, why: string): Promise<Outcome>;
}
