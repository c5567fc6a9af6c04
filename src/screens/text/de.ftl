# Jeder Satz von Beginn, Rundgang, Abschluss und Blatt, und des Rahmens darum.
# Gesprochenes und Gehörtes bleibt englisch, ebenso der Katalog und das Protokoll.

## Wörter des Fachs

standing-spoken = angesprochen
standing-part = teils angesprochen
standing-question = in Frage
standing-unspoken = nicht angesprochen
standing-skipped = ausgelassen
standing-set-aside = zurückgestellt
shape-finding = Befund

severity-ground = nicht fliegen
severity-defer = mit Auflagen aufschieben
severity-watch = beobachten
severity-note = vermerken
severity-none = Schwere nicht gesagt

circumstance-first-flight = erster Flug des Tages
circumstance-night = Nacht
circumstance-cold = kaltes Wetter
circumstance-after-maintenance = nach Wartung
circumstance-after-squawk = nach einer Beanstandung

ear-embedded = dieses Gerät, ohne Netz
ear-browser = die Erkennung des Browsers
ear-typed = nur die Tastatur
ear-file = eine Datei

checks = { $n ->
    [one] { $n } Prüfpunkt
   *[other] { $n } Prüfpunkte
}
gaps = { $n ->
    [one] { $n } Lücke
   *[other] { $n } Lücken
}
findings = { $n ->
    [one] { $n } Befund
   *[other] { $n } Befunde
}
stations = { $n ->
    [one] { $n } Station
   *[other] { $n } Stationen
}
open-squawks = { $n ->
    [one] { $n } offene Beanstandung
   *[other] { $n } offene Beanstandungen
}
no-gap = keine Lücke
by-touch = durch Berühren
by-touch-count = { $n } durch Berühren
of-spoken = von { $required } angesprochen
finding-word = { $n ->
    [one] Befund
   *[other] Befunde
}
not-placed = Nicht zugeordnet
taken-back-count = { $n } zurückgenommen

## Der Rahmen

close = Schließen
understood = Verstanden
to-the-walk = Zum Rundgang
home = Talkround, Beginn
places = Orte
place-walks = Rundgänge
place-squawks = Beanstandungen
place-catalogues = Kataloge
place-settings = Einstellungen
place-school = Schule
opening = Wird geöffnet …

## Rundgang

ear-starting = Lädt
ear-listening = Hört zu
ear-speaking = Spricht
ear-held = Pause
ear-typed-now = Tastatur
ear-deaf = Hört nichts
ear-note-starting = Das Ohr wird geladen. Berühren und Tippen zählen schon.
ear-note-loading = Das Ohr wird geladen, { $percent } % davon sind da. Berühren und Tippen zählen schon.
ear-loaded = Wie viel vom Ohr geladen ist
ear-note-sent-away = { $aircraft }. Der Ton verlässt dieses Gerät.
ear-note-speaking = Es hört sich nicht selbst zu.
ear-note-held = Nur Fehler werden behalten, bis „resume“ gesagt oder gedrückt wird.
ear-note-typed = { $aircraft }. Die Worte kommen von der Tastatur.
ear-here-both = { $aircraft }. Die Erkennung des Browsers auf diesem Gerät hört zu, und die von Talkround daneben.
ear-here-browser = { $aircraft }. Die Erkennung des Browsers auf diesem Gerät hört allein zu.

last-heard = Zuletzt gehört
example = Sagen, wo Sie stehen und was Sie finden, auf Englisch: „{ $station }, { $check } good“.
put-at = { $number } { $station }
said-not-heard = Nicht verstanden, bitte noch einmal
said-nothing = Gehört, nichts für das Blatt
unheard-many = { $n } Mal wurde etwas gesagt und nichts davon verstanden. Es steht nicht auf dem Blatt.
unheard-faint = Die Stimme ist leise: das Mikrofon näher holen oder ein anderes nehmen.
unheard-noise = Der Lärm ist zu laut: das Mikrofon näher holen oder ein anderes nehmen.
unheard-voice = Diese Stimme ist noch nicht bekannt: deutlich sprechen oder den Hörtest machen.
unheard-browser = Die Erkennung des Browsers nehmen
unheard-own = Die Erkennung dieses Geräts nehmen
unheard-type = Lieber tippen
unheard-check = Hörtest
check-title = Hörtest
check-offer = Auf dem letzten Rundgang wurde vieles nicht verstanden. Zehn Sekunden helfen vielleicht:
lately = { $n ->
    [one] Das zuletzt Gesagte
   *[other] Die letzten { $n } Sätze
}
lately-taken = Zurückgenommen
lately-take-back = Zurücknehmen
lately-said-of = Gesagt war es von
lately-choose = Prüfpunkt wählen

first-use = Erster Versuch
first-step = Satz { $step } von { $of }. Sagen:
first-where = „now the { $station }“
first-what = „{ $check } good“
first-hold = „pause the walk“
first-over = Das ist alles. In der Pause zählt nichts; „continue the walk“ macht weiter.
first-skip = Überspringen
first-go = Zu meinem Rundgang

question = Frage
question-how = Sagen, tippen oder drücken. Bis dahin zählt es nicht.

unkept = { $n ->
    [one] 1 Äußerung gehört und noch nicht gespeichert:
   *[other] { $n } Äußerungen gehört und noch nicht gespeichert:
}
unkept-what = „{ $words }“. Die App offen lassen und weitersprechen: was wartet, wird zuerst geschrieben.

demanded-label = Von einem Befund verlangt
demanded = { $n ->
    [one] Ein Befund verlangt 1 weiteren Prüfpunkt
   *[other] Ein Befund verlangt { $n } weitere Prüfpunkte
}
demanded-more = und { $n } weitere, an ihren Stationen

where = Wo sind Sie?
where-at = { $number } { $station }
where-count = { $done } von { $required }
where-count-all = { $done } von { $required } insgesamt
station-open = { $n } offen
station-none-open = nichts offen
station-not-asked = heute nicht verlangt

left-here = Hier noch offen
more-here = und { $n } weitere hier
done-here = Hier erledigt
all-said = Jeder Prüfpunkt, der heute verlangt ist, ist angesprochen oder zurückgestellt.
next-station = Hier ist nichts offen. Weiter: { $station }
begin-at = Beginnen bei { $station }

type-instead = Tippen statt sprechen
say = Sagen
wrong = Das war falsch
hold = Pause
resume = Weiter
listen-again = Wieder zuhören
finish-short = Fertig
finish-the-walk = Rundgang abschließen
squawk = Beanstanden
elsewhere = Anderswo
today-is = Heute: { $what }
today-nothing = nichts gesagt

card-say = Sagen
card-of = Von
card-value = Wert
card-how = Wie
card-measured = Ein gemessener Prüfpunkt braucht seinen Wert: sagen oder tippen.
card-good = Gut, durch Berühren
card-good-note = Besser sagen: ein Berühren wird als Berühren gezählt und gezeigt.
card-why = Warum er offen bleibt
card-own-reason = Oder in eigenen Worten
card-set-aside = Zurückstellen
reason-not-fitted = nicht eingebaut
reason-not-reachable = heute nicht erreichbar
reason-not-asked = für diesen Flug nicht verlangt
nothing-said = Dazu wurde nichts gesagt.

## Beginn

begin-opening = Die Datenbank wird geöffnet …
begin-which = Welches Luftfahrzeug?
begin-new = Eines, das noch nicht begangen wurde
begin-asked = heute { $checks } an { $stations }
begin-catalogue-asked = { $catalogue }, heute { $checks }
begin-unfinished = { $aircraft }, begonnen { $when }, ist nicht abgeschlossen: { $gaps } offen.
begin-unfinished-uncounted = { $aircraft }, begonnen { $when }, ist nicht abgeschlossen.
begin-go-on = Fortsetzen
begin-discard = Verwerfen
begin-name = Wie heißt es? Das Kennzeichen, oder leer lassen.
begin-unwalked = Beanstandet und noch nicht begangen: { $aircraft }.
begin-today = Heute
begin-who = Wer geht, und was zuhört: { $pilot }, { $ear }
begin-no-name = kein Name
begin-pilot = Pilot
begin-instructor = Lehrer, der zuhört
begin-hours = Betriebsstunden des Luftfahrzeugs
begin-words-from = Die Worte kommen von
begin-carried = Von früher offen
begin-carried-mark = offene Beanstandung
begin-cautions = Bevor Sie etwas anfassen
begin-instead = Niemand da zum Sprechen?
begin-bring-in = Mitschrift oder Tondatei einlesen
begin-squawk = Beanstandung ohne Rundgang melden
begin-first = Noch nie damit gegangen? Drei Sätze, unter einer Minute
begin-voice = Oder „begin“ sagen. Das Mikrofon ist an; kein Ton verlässt dieses Gerät.
begin-walk = Rundgang beginnen
beginning = Beginnt …
begin-storage = Platz und Speicher
begin-version = Neue Fassung
begin-version-load = Neue Fassung laden
begin-network = Ohne Netz
begin-network-help = Was dagegen hilft
local-title = Die Erkennung des Browsers auf diesem Gerät
local-offer = Dieser Browser kann eine Erkennung holen, die auf diesem Gerät arbeitet: groß, braucht einmal das Netz, und dann verlässt kein Ton das Gerät.
local-coming = Der Browser holt seine Erkennung. Bis sie da ist, hört die von Talkround zu.
local-yes = Holen
local-no = Nein

## Abschluss

finish-no-gap = Keine Lücke ist offen
finish-line = { $aircraft }: { $spoken } von { $required } Prüfpunkten angesprochen.
finish-line-aside = { $n } zurückgestellt.
finish-line-touched = { $n } davon durch Berühren.
finish-line-finished = Mit Lücken abgeschlossen; sie bleiben auf dem Blatt.
finish-no-finding = Kein Befund
finish-gaps-head = Lücken
finish-gaps-how = Zurückgehen und sie sagen, oder sagen, warum eine offen bleibt. Ein „gut“ aus der Erinnerung ist keine Prüfung.
finish-gap-part = { $missing } nicht gesagt
finish-gap-result = Ergebnis nicht gesagt
finish-gap-question = in Frage
finish-gap-demanded = von einem Befund verlangt
finish-show-gaps = Die { $n } Lücken zeigen
finish-walk-there = Zu { $number } gehen
finish-walk-there-long = Zu { $number } gehen, { $station }
finish-say-why = Warum bleibt { $check } offen?
finish-own-words = Oder in eigenen Worten klären
finish-back = Zurück zum Rundgang
finish-now = Abschließen
finish-with = { $n ->
    [one] Mit 1 Lücke abschließen
   *[other] Mit { $n } Lücken abschließen
}
finish-place = Zuordnen
finish-place-which = Um welchen Prüfpunkt geht es?
finish-how-bad = Wie schwer: { $finding }
finish-discard = Diesen Rundgang verwerfen
discard-title = Diesen Rundgang verwerfen?
discard-text = Er wird nicht wieder angeboten und zählt für nichts. Was gesagt wurde, bleibt im Protokoll, und seine Befunde bleiben Beanstandungen.
discard-why = Warum, wenn Sie mögen
discard-yes = Verwerfen
discard-no = Behalten

decide-head = Der verantwortliche Pilot entscheidet
decision-fly = Fliegen
decision-fly-text = Ich stelle fest, dass es fliegen darf.
decision-defer = Aufschieben
decision-defer-text = Es darf in Grenzen fliegen, die eine befugte Person gesetzt hat.
decision-ground = Nicht fliegen
decision-ground-text = Es fliegt nicht, bis es behoben ist.
decision-hand-over = Weitergeben
decision-hand-over-text = Jemand anderes entscheidet.
decide-authority = Auf wessen Befugnis, und in welchen Grenzen
decide-note = Anmerkung
decide-name = Name
decide-certificate = Lizenznummer, wo angegeben
decide-unplaced = Ein Befund ist noch nicht zugeordnet: oben den Prüfpunkt wählen, dann unterschreiben.
decide-later = Später unterschreiben
decide-sign = Unterschreiben
decide-signed = Unterschrieben von { $name }.
decide-see = Zum Blatt

## Blatt

sheet-opening = Der Rundgang wird geöffnet …
head-no-pilot = Pilot nicht genannt
head-pilot = Pilot { $pilot }
head-instructor = Lehrer { $instructor }
head-hours = { $hours } h
sheet-findings = Befunde
sheet-no-finding = Kein Befund wurde ausgesprochen.
sheet-skipped = Ausgelassen
sheet-print = Drucken ({ $paper })
paper-a4 = A4
paper-letter = Letter
sheet-pdf = PDF
sheet-form = Formular für die Werkstatt (PDF)
sheet-csv = Tabelle (CSV)
sheet-json = Daten (JSON)
sheet-debrief = Nachbesprechung
sheet-sign = Entscheiden und unterschreiben
sheet-sign-note = Dieser Rundgang ist nicht unterschrieben.
sheet-discarded = Dieser Rundgang wurde verworfen: er zählt für nichts. Was gesagt wurde, bleibt hier.
sheet-discarded-why = Dieser Rundgang wurde verworfen ({ $why }): er zählt für nichts. Was gesagt wurde, bleibt hier.
sheet-went = Wie der Rundgang verlief
sheet-decision = Entscheidung
sheet-not-stated = Nicht genannt
sheet-decides-fly = { $by } entscheidet zu fliegen
sheet-decides-defer = { $by } entscheidet aufzuschieben
sheet-decides-ground = { $by } entscheidet, nicht zu fliegen
sheet-decides-hand-over = { $by } gibt die Entscheidung weiter
sheet-authority = , auf Befugnis von { $authority }
sheet-signed = Unterschrieben
sheet-not-signed = Nicht unterschrieben
sheet-left = Offen geblieben
sheet-by-touch = Durch Berühren
sheet-foot = Talkround sagt, was angesprochen wurde und was nicht. Ob das Luftfahrzeug in einem sicheren Zustand ist, stellt der verantwortliche Pilot fest (14 CFR 91.7).
sheet-doubt = Dieses Blatt steht in Zweifel
sheet-added = Zu diesem Rundgang hinzugefügt
sheet-version = Eine andere Fassung dieses Rundgangs
sheet-version-open = Diese Fassung öffnen
sheet-beside = Neben diesem Rundgang gesagt
sheet-beside-note = Nichts davon ändert, was angesprochen wurde.
sheet-why = Warum
sheet-reviewed = Geprüft
told-reported = Gemeldet
told-done = Getan
told-explained = Erklärt, zählt nicht
sheet-contradicted = Später widersprochen: die schlechtere Lesart gilt, bis es geklärt ist.
sheet-taken-back-line = Zurückgenommen.
sheet-from-reporter = Schwere nach dem Melder
sheet-from-catalogue = vom Katalog vorgeschlagen
sheet-from-before = wie von Ihnen am { $on } eingestuft
sheet-cleared = Nach eigenen Worten von der Wartung freigegeben: „{ $words }“
sheet-from-measure = (außerhalb der Grenzen)
sheet-unplaced = Nicht zugeordnet: vor der Unterschrift braucht er seinen Prüfpunkt.
sheet-tally = { $spoken } von { $required }
sheet-missing = { $standing }: { $missing } fehlt
sheet-reviewer = Prüfer: { $standing }.
sheet-measured = Gemessen: { $what }
sheet-required = Verlangt, weil: { $because }
sheet-to-say = Zu sagen: { $what }.
sheet-places = An: { $what }.
sheet-acts = Wie: { $what }.

plan-label = Rundgang um { $kind ->
    [helicopter] den Hubschrauber
    [aeroplane] das Flugzeug
    [glider] das Segelflugzeug
    [gyroplane] den Tragschrauber
   *[other] das Luftfahrzeug
}: { $stations }
plan-so-far = { $plan }; { $spoken } von { $required } Prüfpunkten angesprochen.
plan-here = Jetzt bei { $station }.

## Schlüssel und Geräte

key-own = Schlüssel dieses Geräts
key-own-note = Was hier unterschrieben wird, ist damit versiegelt. Die Wörter vorlesen, wem Ihre Rundgänge eingelesen werden oder wer dieses Gerät zu seinem zulässt, oder dessen Kamera den Code lesen lassen: dieselben Wörter auf beiden Geräten, und es ist Ihrer.
key-called = Wie dieses Gerät heißt
key-code = QR-Code der Wörter { $words }
key-met = Bekannte Geräte
key-nameless = Gerät { $device }
key-since = seit { $when }
key-changed = Ein neuer Schlüssel eines Geräts, das unter einem anderen bekannt war. Erst glauben, wenn sein Besitzer Ihnen die Wörter vorgelesen hat.
key-compared = Wir haben die Wörter verglichen

shared-head = Geräte dieses Rundgangs
shared-only = Nur dieses Gerät trägt bei.
shared-line = zugelassen von { $by }, { $when }; { $n ->
    [one] 1 Äußerung zählt
   *[other] { $n } Äußerungen zählen
}
shared-waiting = Gerät { $device } hat { $n ->
    [one] 1 Ereignis
   *[other] { $n } Ereignisse
} geschickt, nirgends gezählt: Es wurde nicht zugelassen.
shared-give = Ihm diesen Rundgang geben (Datei)
shared-given = { $file } auf dem anderen Gerät einlesen, dort den Rundgang öffnen und fortführen.
shared-guest = Dieser Rundgang wurde auf einem anderen Gerät begonnen, das dieses zugelassen hat. Beendet, entschieden und unterschrieben wird er dort.
shared-guest-over = Dieser Rundgang wurde auf einem anderen Gerät begonnen und ist vorbei: Hier kommt nichts mehr dazu.
shared-go-on = Hier fortführen
shared-hand-over = Übergeben
shared-hand-over-note = „Übergeben“ versiegelt, was hier gesagt wurde, und macht eine Datei. Erst wenn sie auf dem Gerät eingelesen ist, das den Rundgang begonnen hat, zählt es dort.
shared-handed = Versiegelt. { $file } auf dem Gerät einlesen, das den Rundgang begonnen hat, bevor er unterschrieben wird.
second-device = Zweites Gerät
finish-guest = Dieser Rundgang wird auf dem Gerät beendet, das ihn begonnen hat. Übergeben, was hier gesagt wurde, und die Datei dort einlesen, bevor unterschrieben wird.

let-in-offer = Ein anderes Gerät zulassen
let-in-note = Was es beiträgt, zählt dann in diesem Rundgang, als wäre es hier gesagt. Welches Gerät?
let-in-code = Oder einfügen, was eine Kamera aus seinem Code liest (auf dem anderen Gerät unter Einstellungen)
let-in-read = Code lesen
let-in-compare = Beide Geräte nebeneinander halten. Zeigt { $name } unter Einstellungen diese Wörter? Eine Kamera liest sie auch aus dem Code.
let-in-by = Wer es zulässt
let-in-same = Dieselben Wörter: zulassen
let-in-other = Sie sind verschieden

## Eine Notiz nach der Unterschrift

amend-offer = Notiz nach der Unterschrift
amend-note = Sie steht neben dem unterschriebenen Rundgang, mit Ihrem Namen und der Zeit. Am Unterschriebenen ändert sie nichts.
amend-words = Notiz
amend-by = Name
amend-squawk = Ein Mangel, der seither gefunden wurde, ist eine Beanstandung: hier melden.
amend-add = Notiz hinzufügen

## Einstellungen

language = Sprache des Bildschirms
agree-title = Der Ton verlässt dieses Gerät
agree-yes = Ja, benutzen
agree-no = Nein, auf diesem Gerät bleiben
language-note = Gesprochen und gehört wird Englisch: die Erkennung, die Antworten und die Kataloge bleiben englisch.

## Bilder zu einem Befund

picture-take = Fotografieren
picture-take-of = Fotografieren: { $of }
picture-file = Aus einer Datei
picture-file-of = Bild aus einer Datei: { $of }
picture-busy = Wird gelesen …
picture-kept = Das Bild zu { $of } ist aufgehoben.
picture-of = Bild { $n } zu { $of }
picture-gone = Ein Bild wurde aufgenommen; es liegt nicht auf diesem Gerät.
picture-no = Ein Bild wurde aufgenommen, das hier nicht gezeigt werden kann.
picture-erased = Ein Bild wurde auf Wunsch gelöscht: { $why }.
picture-erase = Dieses Bild löschen …
picture-erase-note = Es wird endgültig gelöscht, hier und in der zweiten Kopie. Die Aufzeichnung sagt weiterhin, dass es da war und warum es gelöscht wurde. Früher gemachte Sicherungen bleiben unberührt.
picture-erase-why = Warum wird es gelöscht?
picture-erase-yes = Löschen
