// The embedded recogniser imports a Blob polyfill; every supported platform has Blob.
export const Blob = globalThis.Blob;
