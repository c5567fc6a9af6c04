/** A device by one of its keys, to be compared by two people. */
export interface KeyView {
  readonly device: string;
  readonly publicKey: string;
  readonly name: string | null;
  /** The fingerprint in words, to be read out. */
  readonly words: string;
  readonly own: boolean;
  readonly compared: boolean;
  /** Milliseconds since 1970 when it was first met; 0: before this was kept, or not met yet. */
  readonly since: number;
  /** Its device was met under another key before. */
  readonly changed: boolean;
}

/** Whose walk it is, and who else adds to it. */
export interface WalkDevices {
  /** own: begun here. guest: begun elsewhere, and this device was let in. none: neither. */
  readonly role: 'own' | 'guest' | 'none';
  /** Neither signed nor discarded: devices may still be let in, and add. */
  readonly open: boolean;
  readonly letIn: readonly LetIn[];
  /** Devices that sent something and were not let in; how many events of each lie aside. */
  readonly waiting: readonly { readonly device: string; readonly events: number }[];
}

export interface LetIn {
  readonly device: string;
  /** What it is called here; null when nobody said. */
  readonly name: string | null;
  readonly words: string;
  /** Who let it in, and when by that device's clock, milliseconds since 1970. */
  readonly by: string | null;
  readonly at: number;
  /** How many of its utterances count. */
  readonly said: number;
}
