/** Long thin wings, a canopy, a T-tail. */
export function Glider() {
  return (
    <g className="drawing">
      <path
        className="body"
        d="M50 7c2.6 2.500 4 9 4 17 0 10-1.5 18-2.3 26l-.9 34h-1.600l-.9-34c-.8-8-2.300-16-2.300-26 0-8 1.400-14.500 4-17z"
      />
      <path
        className="body"
        d="M50 30h18l30 3.500v2.300l-30 2.700h-36l-30-2.700v-2.300l30-3.500z"
      />
      <path
        className="thin"
        d="M68 36.800l28-1.500M32 36.800l-28-1.500M60 32.500h9v1.400h-9zM31 32.500h9v1.400h-9z"
      />
      <path className="thin" d="M47.200 14q2.800-3.200 5.600 0v11q-2.800 1.600-5.600 0z" />
      <path className="body" d="M38 82.500q12-2.300 24 0v3.200q-12 1.600-24 0z" />
      <path className="thin" d="M39 85h22M50 78v12" />
      <circle className="dot" cx="50" cy="39.500" r="0.9" />
    </g>
  );
}

/** An open pod, two rotor blades, a pusher propeller behind, and a tail on its keel. */
export function Gyroplane() {
  return (
    <g className="drawing">
      <circle className="faint" cx="50" cy="40" r="36" />
      <path
        className="thin"
        d="M49 39.4 24.2 13.8l1.600-1.500L51 38.4zM51 40.600l24.8 25.6-1.600 1.500L49 41.600z"
      />
      <path
        className="body"
        d="M50 10c5 0 8 6 8 14v20c0 4-2 7-4 8h-8c-2-1-4-4-4-8v-20c0-8 3-14 8-14z"
      />
      <path className="thin" d="M44 22q6-4 12 0M44 36h12" />
      <path d="M42 42l-12 5v4M58 42l12 5v4M50 10v-4" />
      <path className="thin" d="M38 56.500q12-2 24 0-12 2-24 0z" />
      <path className="body" d="M49 52h2v30h-2z" />
      <path className="body" d="M38 80h24v4.500h-24z" />
      <path d="M38 76v13M62 76v13M50 76v14" />
      <circle className="body" cx="50" cy="40" r="2.4" />
      <circle className="dot" cx="50" cy="40" r="0.7" />
    </g>
  );
}
