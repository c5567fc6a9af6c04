/**
 * Words of the trade for reading drafts. A word that is missing here costs a
 * guess, which the author mends; a word that is wrong here invents one. Common
 * practice, no source.
 */

/** Nouns, to mend words that a scanner damaged. Only damaged words are looked up. */
const NOUNS =
  'access actuator aileron airbrake alternator alternate anchor angle antenna antennas area attach avionics axle baffle baffles baggage ' +
  'ball battery beacon bearing bearings belt belts bilge blade blades bolt bolts boom boost boot both bottom bow bowl ' +
  'bracket brake brakes breaker breakers bulb bushing button bypass cabin cable cables canopy cap caps carburettor ceiling charged ' +
  'check clean clear clip cleat closed clutch cockpit collective compartment condition cone connectors control coolant cooler couplings cover ' +
  'covers cowl cowling cowlings crack cracks cross cyclic damage deck deflection dipstick disc discs documents dolly door doors ' +
  'drain drains drive edge electrical elevator empennage engine exhaust extension extinguisher fabric fairing fan filler fillers ' +
  'filter fin fire first flap flaps flight float floats fluid friction fuel fuselage gauge gauges gear gearbox generator glass governor grease gust ' +
  'handbook handle harness head heat hinge hinges hook horn hose hoses hub hull hydraulic ignition indicator inlet inspection instrument ' +
  'instruments intake interior jack key keel kit knob landing latches leading leak leaks level lever lever light lights lights limit line lines ' +
  'lining link linkage links lock locks lower magneto magnetos main mast master mirror mixture mount mounts nose nut nuts oil ' +
  'opening outer oxygen paddle panel panels parking pedal pedals pin pins pitch pitot plug plugs port ports power preflight pressure primer ' +
  'propeller pulley pump pylon quantity quarts rack radiator radio reservoir right rod rods root rotor rudder safety screen screws seal seat seats ' +
  'section secure security selector shaft shock shoes sight sign skid skids skin slip spar spark spinner spoiler spring springs ' +
  'stabilator stabilizer stack stall static steering stick strainer strap strut struts sump surface surfaces suspension swashplate switch ' +
  'switches tab tail tank tanks temperature throttle tie tip tips tire tires torque tow trailing transmission transponder trim ' +
  'tube tubes tyre tyres upper valve vane vent vents visually voltage warning water wear wheel wheels window windows windscreen ' +
  'windshield wing winglet wings wire wiring yoke check set off on in no min max psi qts left';
export const TRADE: ReadonlySet<string> = new Set(NOUNS.split(/\s+/));

/** Verbs that begin an instruction. */
export const VERBS: ReadonlySet<string> = new Set(
  (
    'check inspect examine verify ensure look confirm test move remove drain sample feel listen measure open close ' +
    'make set pull push turn rotate see shake lift press visually observe review apply release disconnect connect'
  ).split(' '),
);

/** Words that say how a thing has to be: where one of them stands, its name has ended. */
export const STATES: ReadonlySet<string> = new Set(
  (
    'secure secured undamaged damaged fastened free freely tight clean clear closed open opened shut locked unlocked latched ' +
    'removed stowed fitted installed attached unobstructed straight bent frayed cracked worn correct full empty off on ' +
    'set intact good ok okay dry safetied wirelocked charged inflated connected disconnected neutral retracted ' +
    'available visible works work turns turn reads read serviceable'
  ).split(' '),
);

/** Titles of lists: they name no station and no aircraft. */
export const GENERIC =
  /\b(pre-?\s?flight|before (every )?flight|check-?\s?lists?|checks?|inspections?|walk-?\s?(a)?round|daily|normal procedures|outside check|exterior|procedures?)\b/i;

/** Lines that belong to the paper and not to the list. */
export const FURNITURE =
  /(\bpage\s*:?\s*[\dIVX]+([-–/]\d+)?(\s+of\s+\d+)?)|^\s*(revision|rev\.?|issue|edition)\s*[\dA-Z]|^\s*section\s+[\dIVX]+|^\s*[-–—]?\s*\d{1,3}\s*[-–—]?\s*$|^\s*[-=_*·.\s]{3,}$|©|\bcopyright\b/i;

/** Words that are written in capitals also inside a sentence. */
export const ACRONYMS: ReadonlySet<string> = new Set(
  'VHF UHF ELT GPS ADF VOR DME ILS ADS-B ATC APU GPU ECU EFIS PFD MFD OAT ROD VSI ASI RPM LED USB CO TCAS NAV COM EGT CHT HSI'.split(
    ' ',
  ),
);

/** What the check is about, when its action names more than one of them. In the order of the words. */
export const ASPECTS: readonly (readonly [RegExp, string])[] = [
  [/\bcondition\b/i, 'condition'],
  [/\b(security|secure(d)?|attachment|tight|fastened)\b/i, 'security'],
  [/\b(slack|tension)\b/i, 'slack'],
  [/\b(freedom|free|freely|movement|full travel)\b/i, 'movement'],
  [/\b(leak(s|age)?)\b/i, 'leaks'],
  [/\b(play)\b/i, 'play'],
  [/\b(wear|worn)\b/i, 'wear'],
  [/\b(corrosion)\b/i, 'corrosion'],
];
