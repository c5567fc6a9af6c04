export declare const root: string;
export declare function ensureBuilt(target: 'app' | 'cli' | 'school'): Promise<void>;
