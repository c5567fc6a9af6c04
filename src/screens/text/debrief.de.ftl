# Nachbesprechung: ein abgeschlossener Rundgang, und mehrere nebeneinander.

debrief-head = Nachbesprechung: { $head }, { $catalogue }
debrief-all = Alle { $n } verlangten Prüfpunkte wurden angesprochen
debrief-skipped = { $n } von { $required } ausgelassen: { $list }
debrief-unspoken = { $n } von { $required } nicht angesprochen: { $list }
debrief-half = { $n } von { $required } nur teils angesprochen oder in Frage: { $list }
debrief-more = { $list } und { $n } weitere
debrief-in-time = In der Zeit
debrief-pick = Ein Zeichen berühren oder mit den Pfeiltasten die Linie entlanggehen; die Eingabetaste spielt den Ton.
debrief-by-check = Punkt für Punkt
debrief-who = Wer prüft
debrief-to-list = Zurück zur Liste
debrief-print = Auf einer Seite drucken
debrief-as-html = HTML
debrief-student = Alle Rundgänge von { $name }
debrief-missing = { $standing }: { $missing } fehlt
debrief-reviewed = { $standing }. Prüfer: { $reviewed }

utterances = { $n ->
    [one] { $n } Äußerung
   *[other] { $n } Äußerungen
}

## Worin Blatt und Prüfer übereinstimmen

agreed-none = Noch kein Prüfer hat einen Prüfpunkt beurteilt.
agreed = Der Prüfer hat { $checks } beurteilt; das Blatt stimmt bei { $agreed } überein.
agreed-missing = { $n ->
    [one] { $n } Urteil fehlt noch, bevor sich sagen lässt, ob sie öfter als zufällig übereinstimmen.
   *[other] { $n } Urteile fehlen noch, bevor sich sagen lässt, ob sie öfter als zufällig übereinstimmen.
}
agreed-kappa = Cohens Kappa { NUMBER($kappa, minimumFractionDigits: 2, maximumFractionDigits: 2) }.
agreed-interval = Cohens Kappa { NUMBER($kappa, minimumFractionDigits: 2, maximumFractionDigits: 2) } (95-%-Intervall { NUMBER($low, minimumFractionDigits: 2, maximumFractionDigits: 2) } bis { NUMBER($high, minimumFractionDigits: 2, maximumFractionDigits: 2) }).

## Das Wort des Prüfers

correct-open = Es wurde falsch gelesen
correct-kept-reading = Neben der ursprünglichen Lesart vermerkt.
correct-which = Welche Lesart
correct-about = Es ging um
correct-no-check = gar keinen Prüfpunkt
correct-place = Welcher davon
correct-everywhere = Alle
correct-standing = Der Stand nach dem Prüfer
correct-was = Es war
correct-kept-standing = Neben dem Stand des Blatts vermerkt.
correct-who-first = Erst sagen, wer prüft
correct-as = Vermerken als { $name }

## Gehört, und für nichts genommen

passed-over = Gehört, und für nichts genommen
passed-over-count = { $utterances } von { $all }

## Eine zweite Lesung

again-title = Eine zweite Lesung
again-what = Der heutige Leser versteht diese Worte vielleicht anders. Der Rundgang bleibt, wie er aufgezeichnet ist; der Unterschied wird gezeigt und nirgends behalten.
again-reading = Wird gelesen …
again-read = Die Worte noch einmal lesen
again-readers = Aufgezeichnet nach: { $was }; jetzt gelesen nach: { $now }.
again-alike = Beide lesen diese Worte gleich.
again-check = { $check }: aufgezeichnet als { $was }; wäre { $now }
again-lost = Befunde der Aufzeichnung, die es nicht gäbe
again-fresh = Befunde, die nicht in der Aufzeichnung stehen
again-unknown = ein Leser, der nicht aufgezeichnet ist
again-without = der Leser ohne Gewichte
again-reader = Leser { $version }
again-scored = { $reader } (Gewichte { $hash })

## Punkt für Punkt

table-which = Welche Prüfpunkte
table-open = Offen ({ $n })
table-all = Alle ({ $n })
table-none = Nichts ist offen.
table-skipped = Ausgelassen, wo nichts anderes steht:
table-reviewer = Prüfer: { $standing }

## Was gelehrt wurde

taught = Was gelehrt und was gemeldet wurde
taught-explained = erklärt, das ist nicht geprüft
taught-count = { $explained } erklärt, { $reported } gemeldet von { $checks }
taught-of = { $check }: { $what }
taught-class-explained = erklärt
taught-class-done = getan
taught-class-reported = gemeldet
talk-intention = { $words } (eine Absicht)
talk-hypothesis = { $words } (eine Annahme)
talk-question = { $words } (eine Frage)
talk-past = { $words } (Vergangenes)
talk-hearsay = { $words } (Hörensagen)
told-sum = Von { $checks } Prüfpunkten { $explained ->
    [one] wurde { $explained }
   *[other] wurden { $explained }
} erklärt, { $done } getan und { $reported } gemeldet. Erklärt ist nicht geprüft.
taught-nothing = nicht angesprochen

## Der Rundgang in der Zeit

time-line = Äußerungen in der Zeit
time-none = keine gewählt
time-axis = Zeitachse
time-whole = Ganz
time-times = { $n }-fach
time-counted = gezählt
time-nothing = gehört, nicht gezählt
time-question = gefragt oder nicht verstanden
time-finding = Befund
time-hold = Pause
time-silence = lange Stille
time-holds = { $n ->
    [one] { $n } Pause
   *[other] { $n } Pausen
}
time-silences = { $n ->
    [one] { $n } lange Stille
   *[other] { $n } lange Stillen
}
time-sum = { $length } vom Beginn bis zum Ende, { $utterances }, { $holds }, { $silences }.
time-unknown = { $utterances } in ihrer Reihenfolge. Ihre Zeiten sind unbekannt: über das Tempo lässt sich nichts sagen.

## Die Worte

heard-none = Auf diesem Rundgang wurde nichts gehört.
heard-spoken-over = Nicht genommen: Talkround sprach gerade
heard-unread = Nichts wurde daraus gelesen
heard-by-typed = getippt
heard-by-transcript = aus einer Mitschrift
heard-by-sound-file = aus einer Tondatei
heard-by-embedded = von diesem Gerät gehört
heard-by-browser = vom Browser gehört
heard-by-scripted = aus einem Skript
heard-sent = { $by }, hat das Gerät zur Erkennung verlassen
heard-also = { $by }. Auch gehört als: { $words }
play = Hören
play-of = Hören: { $words }
play-walk = Den Rundgang hören
play-none = Von diesem Rundgang wurde kein Ton behalten; nur seine Worte sind hier.
play-not-kept = Zu diesen Worten wurde kein Ton behalten. Unter Einstellungen lässt sich wählen, ob Ton behalten wird.

## Was zurückkam, und als was Worte gelesen wurden

reply-tone-understood = verstanden
reply-tone-finding = Befund aufgenommen
reply-tone-question = eine Frage
reply-tone-not-understood = nicht verstanden
reply-tone-stopped = Zuhören beendet
reply-shown = auf dem Bildschirm
read-at = Bei { $station }
read-command = Befehl: { $command }
read-severity = Schwere: { $severity }
read-taken-back = Nimmt zurück, was davor gesagt wurde
read-taken-back-words = Nimmt „{ $words }“ zurück
read-cleared = Nach eigenen Worten von der Wartung freigegeben
read-set-aside = { $check }: zurückgestellt, { $reason }
read-today = Heute: { $what }
read-today-not = Heute nicht: { $what }
read-asked = Gefragt: { $checks }?
read-or = { $one } oder { $other }
read-chatter = Nicht über einen Prüfpunkt
read-not-understood = Nicht verstanden
read-absent = kein { $what }
read-done = getan, nicht was gefunden wurde
read-good = gut
read-bad = schlecht
read-aspects-good = { $aspects } gut
read-aspects-bad = { $aspects } schlecht
read-of = { $of }: { $what }
read-named = genannt
read-unplaced = Nicht zugeordnet ({ $part })
read-everything = Alles bei { $station }
force-intention = eine Absicht, zählt nicht
force-teaching = Unterricht, zählt nicht
force-hypothesis = eine Annahme, zählt nicht
force-question = eine Frage, zählt nicht
force-past = Vergangenes, zählt nicht
force-hearsay = Hörensagen, zählt nicht

## Nebeneinander

several = { $walks } nebeneinander
several-how = Der älteste zuerst. Jede kleine Linie ist der Rundgang durch die Stationen, von oben nach unten, auf einer Zeitachse von { $length }.
several-editions = Diese Rundgänge folgten { $n } Fassungen eines Katalogs: ein Prüfpunkt, den nur eine von ihnen hat, wird mit nichts verglichen.
several-catalogues = Diese Rundgänge folgten verschiedenen Katalogen, darum werden ihre Prüfpunkte nicht verglichen.
several-version = { $head }, Version { $version }
several-timed = { $spoken } von { $required } in { $length }
several-untimed = { $spoken } von { $required }, Zeiten unbekannt
several-none-open = Nichts offen
several-found = { $open }, { $findings }
several-order = Reihenfolge der Stationen: { $order }
several-nothing = Auf keinem von ihnen blieb etwas offen.
several-left = Offen geblieben, am häufigsten zuerst
several-left-label = Offen geblieben, nach Prüfpunkt und Rundgang
several-check = Prüfpunkt
several-times = Mal
pace = Tempo
pace-how = Sekunden an jeder Station, ohne Pausen; ein Punkt je Rundgang, der neueste gefüllt.
pace-label = Tempo, nach Station
pace-drawing = Sekunden an jeder Station für { $n } Rundgänge, bis { $most }
