export declare const POLICY: Readonly<Record<string, readonly string[]>>;
export declare const HEADER_ONLY: Readonly<Record<string, readonly string[]>>;
export declare const PERMISSIONS: Readonly<Record<string, string>>;
/** The policy as index.html has it in its <meta>. */
export declare function metaPolicy(): string;
/** The headers of one answer. */
export declare function headersFor(url: string, secure: boolean): Record<string, string>;
