import { ourWeights } from '../bench/grammar/ours.ts';
export const ownWeights_ = ourWeights;
