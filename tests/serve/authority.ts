import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

export interface Authority {
  readonly der: Uint8Array;
  readonly pem: string;
  readonly fingerprint: string;
  readonly keyPem: string;
  readonly until: number;
}

export interface Certificate {
  readonly key: string;
  readonly cert: string;
  readonly fingerprint: string;
}

/** The server's own makers, loaded as the server loads them. */
export interface Makers {
  ownAuthority(
    folder: string,
    now: number,
    addresses: readonly string[],
    anew?: boolean,
  ): Promise<Authority & { readonly made: boolean }>;
  makeAuthority(now: number, addresses: readonly string[]): Promise<Authority>;
  certificateFor(
    authority: Authority,
    addresses: readonly string[],
    names: readonly string[],
    now: number,
  ): Promise<Certificate>;
  speaksFor(authority: Authority, address: string): boolean;
}

export async function makers(): Promise<Makers> {
  const file = pathToFileURL(join(process.cwd(), 'src/serve/authority.mjs')).href;
  return (await import(/* @vite-ignore */ file)) as Makers;
}

export async function newAuthority(addresses: readonly string[] = []): Promise<Authority> {
  return (await makers()).makeAuthority(Date.now(), addresses);
}

export async function certify(of: Authority, addresses: readonly string[]): Promise<Certificate> {
  return (await makers()).certificateFor(of, addresses, ['localhost'], Date.now());
}
