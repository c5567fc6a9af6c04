# Rundgänge, Schüler und Gelerntes.

## Wörter mehrerer Bildschirme

stop = Anhalten
aircraft = Luftfahrzeug
catalogue = Katalog
walks-opening = Die Rundgänge werden geöffnet …
walks-count = { $n ->
    [one] { $n } Rundgang
   *[other] { $n } Rundgänge
}

## Rundgänge

walks-none = Auf diesem Gerät liegt noch kein Rundgang. { $begin }, oder einen einlesen.
walks-begin = Einen beginnen
walks-side = Nebeneinander: { $aircraft }, { $when }
walks-untimed = Zeiten unbekannt
walks-counting = wird gezählt …
walks-state-walking = nicht abgeschlossen
walks-state-finished = nicht unterschrieben
walks-state-signed = unterschrieben
walks-state-discarded = verworfen
walks-brought = { $state }, eingelesen
walks-debrief = Nachbesprechung { $aircraft }, { $when }
walks-older = Ältere zeigen, { $shown } von { $all } sind hier
walks-pick = Zum Vergleichen zwei oder mehr ankreuzen
walks-compare = { $n } Rundgänge vergleichen
walks-keep = Sicher aufheben
walks-keep-note = Alles bleibt auf diesem Gerät. Ein Browser kann es löschen, wenn ihm der Platz ausgeht, oder auf manchen Telefonen nach sieben Tagen ohne Gebrauch; eine Sicherung ist eine Datei.
walks-back-up = In eine Datei sichern
walks-backed-up = { $file } enthält jeden Rundgang, jede Beanstandung und jeden Katalog dieses Geräts.

bring-in = Einlesen
bring-in-what = Mitschriften (VTT, SRT oder reiner Text) und Tondateien von Rundgängen, ein Katalog (YAML oder JSON) oder die Sicherung eines anderen Geräts.
bring-in-choose = Dateien wählen oder hierher ziehen
bring-in-reading = { $file } wird gelesen …
bring-in-which = { $n } von { $all }, { $file }: { $text }
bring-in-stopped = Angehalten: { $done } von { $all } sind eingelesen.

whose = { $n ->
    [one] Wessen Rundgang ist es?
   *[other] Wessen Rundgänge sind es?
}
whose-flew = Wer flog
whose-taught = Wer lehrte (kann leer bleiben)
whose-hours = Betriebsstunden (kann leer bleiben)
whose-when-name = Wann: { $file } (nach dem Namen)
whose-when-date = Wann: { $file } (nach dem Datum)
whose-take = { $n ->
    [one] Einlesen
   *[other] { $n } Rundgänge einlesen
}
whose-leave = Weglassen

## Schüler

student-latest = { $walks }, hier die letzten { $n }
student-none = Auf diesem Gerät liegt kein Rundgang von { $name }.
student-every = Alle Rundgänge, der letzte zuerst
student-spoken = { $spoken } von { $required } angesprochen
student-told = { $explained } erklärt, { $reported } gemeldet
student-next = Für die nächste Stunde
student-one = Ein Rundgang zeigt noch keine Gewohnheit.
student-no-habit = Nichts blieb mehr als einmal offen.
student-again = Immer wieder offen geblieben
student-of = { $catalogue }, { $walks }.
student-habit = { $check }: offen auf { $open } von { $of }, erklärt auf { $explained }, gemeldet auf { $reported }

## Was gelernt wurde

learned-none = Hier wird nichts gelernt.
learned = Was gelernt wurde
learned-on = Was an { $aircraft } gelernt wurde
learned-opening = Das Gelernte wird geöffnet …
learned-give = Weitergeben
learned-squawks = Beanstandungen von { $aircraft }
learned-asked = Nur mit Ihrem Ja übernommen
learned-asked-what = Von jetzt an hießen diese Worte gut, harmlos oder ein milderer Mangel:
learned-take = Auch diese übernehmen
learned-leave = Diese weglassen
learned-no-aircraft = Auf diesem Gerät ist noch kein Luftfahrzeug bekannt.
learned-nothing = Nichts an { $aircraft }.
learned-what = Was eine Antwort oder eine Berichtigung auf einem Rundgang über Ihre Worte sagt, wird hier behalten.
learned-nameless = Rundgänge ohne Namen
learned-forget = Vergessen
learned-forgotten = Vergessen wurde
learned-again = Wieder lernen
learned-press = { $act }: „{ $phrase }“
quoted = „{ $words }“
learned-when = gelernt am { $day }
learned-question = gefragt „{ $question }“
learned-said = gesagt „{ $words }“
