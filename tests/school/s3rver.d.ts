/** What we use of a server that speaks S3; it brings no types of its own. */
declare module '@20minutes/s3rver' {
  import type { RequestListener } from 'node:http';

  export default class S3rver {
    constructor(options: {
      readonly directory: string;
      readonly silent: boolean;
      readonly resetOnClose: boolean;
      readonly configureBuckets: readonly {
        readonly name: string;
        readonly configs: readonly string[];
      }[];
    });
    configureBuckets(): Promise<unknown>;
    /** As Koa has it. */
    callback(): RequestListener;
  }
}
