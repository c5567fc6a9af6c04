/** A small sound catalogue; each test of bad input bends one line of it. */
export const SMALL = `v: 1
id: small
name: Small aircraft
kind: other
gauges:
  - id: knuckle
    name: Finger depth
    steps: [fingertip, first knuckle, second knuckle]
signs:
  - id: crack
    name: Crack
    severity: ground
  - id: strike
    name: Ground strike
    anywhere: true
    followUps: [tail-rotor]
stations:
  - id: engine
    name: Engine
    place: { x: 50, y: 40 }
    checks:
      - id: belts
        name: Drive belts
        aspects: [condition, slack]
        repeat: 2
        signs: [crack]
        jasc: 6310
        measures:
          - id: give
            name: Give
            gauge: knuckle
            atMost: first knuckle
      - id: oil
        name: Oil
        measures:
          - id: level
            name: Level
            unit: "[qt_us]"
            low: 4
            high: 6
  - id: tail
    name: Tail
    place: { x: 50, y: 90 }
    checks:
      - id: tail-rotor
        name: Tail rotor
        required: follow-up
        pronounce: { rotor: R OW T ER }
`;

/** SMALL with one piece of text replaced; throws when the piece is not in it. */
export function bent(piece: string, by: string): string {
  if (!SMALL.includes(piece)) throw new Error(`Not in the small catalogue: ${piece}`);
  return SMALL.replace(piece, by);
}
