# Beanstandungen: die Liste eines Luftfahrzeugs, der Weg einer einzelnen, und eine ohne Rundgang.

squawks-none-known = Auf diesem Gerät ist noch kein Luftfahrzeug bekannt. { $report } oder { $begin }.
squawks-report = Eine Beanstandung melden
squawks-begin = einen Rundgang beginnen
squawks-opening = Die Beanstandungen werden geöffnet …
squawks-new = Neue Beanstandung
squawks-list = Liste der Beanstandungen
squawks-answers = Antworten der Werkstatt einlesen (CSV)
squawks-none = Für { $aircraft } liegt keine Beanstandung vor.
squawks-run-out = Abgelaufen
squawks-open = Offen
squawks-deferred = Aufgeschoben
squawks-rectified = Behoben, noch nachzuprüfen und zu schließen
squawks-closed = Geschlossen oder zurückgezogen
squawks-trends = Gemessen im Lauf der Zeit
squawks-drawing = Wird gezeichnet …
squawks-foot = Diese Liste ist keine Freigabe nach Instandhaltung. Was ein Instandhaltungseintrag enthält, sagt 14 CFR 43.9, was ausgefallen bleiben darf, 14 CFR 91.213; es gelten die Regeln vor Ort.

## Die Datei eines Mechanikers

answers-which = Welcher Tag ist „{ $written }“ in { $file }?
answers-first = Vorher wird nichts übernommen.
answers-leave-file = Die Datei weglassen
answers-not-yet = Noch nicht übernommen aus { $file }
answers-take = Übernehmen, wie sie dastehen
answers-leave = Weglassen

## Zwei, die eine sein können

same-ask = Derselbe Mangel? { $one } und { $other }.
same-title = „{ $title }“
same-title-of = „{ $title }“ vom { $day }
same-join = Zusammenlegen

## Eine Beanstandung

squawk-state-open = offen
squawk-state-deferred = aufgeschoben
squawk-state-rectified = behoben, nicht nachgeprüft
squawk-state-rechecked = nachgeprüft, nicht geschlossen
squawk-state-closed = geschlossen
squawk-state-joined = mit einer anderen zusammengelegt
squawk-state-withdrawn = zurückgezogen
squawk-no-severity = Schwere nicht gesagt
squawk-severity-from = { $severity }, { $from }
squawk-rated-before = wie früher vom Melder eingestuft
squawk-at = bei { $hours } h
squawk-said = Wie gesagt: { $words }
squawk-irregular = Unregelmäßig
squawk-next = Weiter mit { $title }
jasc-none = Kein JASC-Code wird vorgeschlagen.
jasc-confirmed = JASC { $code }, bestätigt.
jasc-confirmed-named = JASC { $code }, { $name }, bestätigt.
jasc-proposed = Vorgeschlagene JASC-Codes
jasc-confirm = { $code } { $name } bestätigen

## Der nächste Schritt

step-deferred = Aufschieben
step-rectified = Behoben
step-rechecked = Nachprüfen
step-closed = Schließen
step-corrected = Berichtigen
step-noted = Ergänzen
step-withdrawn = Zurückziehen
step-record = Eintragen
step-optional = { $field } (kann leer bleiben)
step-deferred-by = Aufgeschoben von
step-authority = Auf welche Befugnis
step-until-date = Bis zum Datum
step-until-hours = Bis zu Betriebsstunden
step-until-flights = Für so viele Flüge
step-limits = Grenzen und Anmerkung
step-placarded = Als „Inoperative“ gekennzeichnet (14 CFR 91.213(d))
step-rectified-by = Behoben von
step-certificate-kind = Art der Lizenz
step-certificate = Lizenznummer
step-reference = Verweis auf die Arbeit
step-date = Datum
step-rechecked-by = Nachgeprüft von
step-found = Was gefunden wurde
step-words = Was nicht in Ordnung ist, vollständig
step-corrected-by = Berichtigt von
step-why = Warum
step-note = Was zu ergänzen ist
step-noted-by = Ergänzt von
step-reason = Warum sie zurückgezogen wird
step-withdrawn-by = Zurückgezogen von
step-closed-by = Geschlossen von
step-closed-note = Anmerkung
outcome-gone = weg
outcome-still-there = noch da
outcome-worse = schlimmer

## Was daraus wurde, je eine Zeile

stepped-by = { $what } von { $name }
stepped-opened = Eröffnet
stepped-found = { $what }, gefunden: { $found }
stepped-legacy = { $what }, älter als diese Liste
stepped-amended = Wieder gesagt
stepped-compared = { $what }: { $compared ->
    [same] gleich
    [worse] schlimmer
   *[better] besser
}
stepped-severity = { $what }, { $severity }
stepped-jasc = JASC { $code } bestätigt
stepped-deferred = Aufgeschoben
stepped-authority = { $what } auf Befugnis von { $authority }
stepped-no-end = { $what }, ohne Ende
stepped-until = { $what } bis { $ends }
stepped-or = { $one } oder { $other }
stepped-hours = { $hours } h
stepped-flights = { $n } Flüge
stepped-placarded = { $what }, gekennzeichnet
stepped-note = { $what }. { $note }
stepped-rectified = Behoben
stepped-work = { $what }, { $kind } { $certificate }, { $reference }, { $date }
stepped-rechecked = Nachgeprüft
stepped-told = { $what }: { $told }
stepped-corrected = Berichtigt
stepped-to = { $what } zu „{ $words }“
stepped-noted = Ergänzt
stepped-withdrawn = Zurückgezogen
stepped-closed = Geschlossen
stepped-joined = Mit einer anderen zusammengelegt

## Ein Wert im Lauf der Zeit

trend-label = { $name }: { $values }. { $text }
trend-value = { $value } am { $day }
trend-limit = Grenze { $value }

## Ohne Rundgang gemeldet

quick-title = Beanstandung
quick-how = Auf Englisch sagen: das Teil, seine Seite, was nicht in Ordnung ist und wie schwer: „left main tyre, flat spot with cords showing, ground it“.
quick-which = Welcher Katalog gilt für { $aircraft }?
quick-which-why = Es ist hier neu. Eine Beanstandung wird nur mit dem eigenen Katalog gelesen; gefragt wird einmal, und nichts von dem Gesagten geht verloren.
quick-no-catalogue = Keiner davon
quick-words = In eigenen Worten, auf Englisch
quick-file = Melden
quick-filed = Gemeldet: { $title }
quick-filed-as = Gemeldet als { $n } Beanstandungen.
quick-unplaced = Behalten wie gesagt: { $words }
quick-another = Noch eine
quick-all = Alle von { $aircraft }
quick-dictate = Diktieren
quick-starting = Lädt …
quick-file-said = Gesagtes melden
quick-say = Sagen
