import type { Catalogue } from '#shared/catalogue';
import { Glider, Gyroplane } from './more-drawings.tsx';

/**
 * Line drawings in plan, nose up, in the units of a station's place (0 to 100
 * each way). Generic machines of our own; they stand for a kind, not a type.
 */
export function Drawing({ kind }: { kind: Catalogue['kind'] }) {
  if (kind === 'helicopter') return <Helicopter />;
  if (kind === 'aeroplane') return <Aeroplane />;
  if (kind === 'glider') return <Glider />;
  if (kind === 'gyroplane') return <Gyroplane />;
  return <Other />;
}

function Helicopter() {
  return (
    <g className="drawing">
      {/* Rotor disc and its two blades, turned out of the walker's way. */}
      <circle className="faint" cx="50" cy="37" r="36" />
      <path
        className="thin"
        d="M49 36.4 24.2 10.8l1.6-1.5L51 35.4zM51 37.6l24.8 25.6-1.6 1.5L49 38.6z"
      />
      {/* Skids and their cross tubes. */}
      <path d="M34.5 17v33M65.5 17v33M34.5 25h31M34.5 43h31" />
      <path d="M34.5 17q0-3 2-4M65.5 17q0-3-2-4" />
      {/* Cabin. */}
      <path
        className="body"
        d="M50 9.5c7 0 11.5 6.5 11.5 15.5 0 7-2 12.5-4 16.500l-2.5 8.500h-10l-2.5-8.500c-2-4-4-9.5-4-16.5 0-9 4.5-15.5 11.5-15.500z"
      />
      <path className="thin" d="M40 20.500c3 2.5 17 2.5 20 0M50 9.500v12.700M40.5 32h19" />
      {/* Boom, tailplane, tail rotor. */}
      <path className="body" d="M47 50h6l-1.8 39h-2.400z" />
      <path className="body" d="M43.5 82h13v3.200h-13z" />
      <path d="M49 89v4h2v-4" />
      <path d="M48.8 86.500h-4.300M44.5 79.500v14" />
      {/* Mast. */}
      <circle className="body" cx="50" cy="37" r="2.6" />
      <circle className="dot" cx="50" cy="37" r="0.7" />
    </g>
  );
}

function Aeroplane() {
  return (
    <g className="drawing">
      {/* Propeller. */}
      <path className="thin" d="M38.5 10.600q11.5-1.8 23 0-11.5 1.8-23 0z" />
      <path className="body" d="M50 7.500c1.5 0 2.4 1.6 2.6 3.600h-5.200c.2-2 1.1-3.6 2.6-3.600z" />
      {/* Body. */}
      <path
        className="body"
        d="M45.5 11.200h9c1.2 4 1.8 9 1.8 14.300v16.500c0 8-2.6 22-4.3 36.500l-.6 8.500h-2.800l-.6-8.500c-1.7-14.5-4.3-28.5-4.3-36.500v-16.500c0-5.3.6-10.3 1.8-14.300z"
      />
      {/* Wing over it, with flaps and ailerons. */}
      <path
        className="body"
        d="M50 28.500h22l22.5 2q2.5 1 2.5 4.500t-2.5 5l-22.5 3.500h-44l-22.5-3.500q-2.5-1.5-2.5-5t2.5-4.500l22.5-2z"
      />
      <path
        className="thin"
        d="M56.5 39.600h17.500v3.600M74 39.600l19.5-1.200v1.800M43.5 39.600h-17.500v3.600M26 39.600l-19.5-1.200v1.8"
      />
      <path className="thin" d="M45 26.500q5-2.8 10 0M45.2 28.500v15M54.8 28.500v15" />
      {/* Struts' shadow and wheels stay hidden under the wing; tailplane and fin. */}
      <path
        className="body"
        d="M50 76h10.500l5.5 2q1 .6 1 2.700t-1 2.800h-32q-1-.7-1-2.800t1-2.700l5.5-2z"
      />
      <path className="thin" d="M35 80.800h30M50 72v17" />
    </g>
  );
}

function Other() {
  return (
    <g className="drawing">
      <path
        className="body"
        d="M50 10c9 0 13 9 13 20v34c0 14-5 26-13 26s-13-12-13-26v-34c0-11 4-20 13-20z"
      />
      <path className="thin" d="M50 10v80M37 36h26M37 62h26" />
      <path d="M45.5 16l4.5-6 4.5 6" />
    </g>
  );
}
