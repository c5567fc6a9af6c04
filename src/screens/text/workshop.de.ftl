# Jeder Satz der Werkstatt, in der Kataloge geschrieben werden. Der Katalog selbst bleibt englisch.

## Das Regal

shop-none = Kataloge können hier nicht geändert werden.
shop-shelf = Was an jedem Muster zu prüfen ist.
shop-drafts = Entwürfe
shop-without-name = Ohne Namen
shop-draft-changed = geändert { $at }
shop-draft-drop = Verwerfen
shop-draft-drop-name = Den Entwurf { $name } verwerfen
shop-here = Auf diesem Gerät
shop-book-starter = mit Talkround gekommen
shop-book-away = weggelegt
shop-change = Ändern
shop-copy = Einen daraus beginnen
shop-give-file = Als Datei weitergeben
shop-give-code = Als Code zeigen
shop-offer-again = Wieder anbieten
shop-put-away = Weglegen
shop-aircraft = Luftfahrzeuge, die danach geprüft werden, mit Komma dazwischen
shop-editions = Ausgaben
shop-edition = Ausgabe { $edition }
shop-version = Version { $version }
shop-edition-current = gilt jetzt
shop-edition-withdrawn = zurückgezogen
shop-edition-from = Von { $by }, Schlüssel { $key }.
shop-edition-walks = { $n ->
    [one] { $n } Rundgang damit gemacht.
   *[other] { $n } Rundgänge damit gemacht.
}
shop-somebody = jemandem
shop-withdraw = Zurückziehen
shop-withdraw-name = { $name } zurückziehen
shop-bring-back = Zurückholen
shop-bring-back-name = { $name } zurückholen
shop-delete = Löschen
shop-delete-name = { $name } löschen
shop-code-too-large = Dieser Katalog ist zu groß für einen Code; gib ihn als Datei weiter.
shop-code-label = Code mit { $name }
shop-code-how = Mit der Kamera eines anderen Telefons lesen, das diese Adresse erreicht.
shop-code-drawing = Der Code wird gezeichnet …
shop-code-reading = Der Code wird gelesen …

## Ein neuer Entwurf

shop-new = Ein neuer
shop-paste = Die gedruckte Checkliste oder eine Tabelle einfügen oder hierher ziehen
shop-make = Einen Entwurf daraus machen
shop-read-file = Eine Datei lesen
shop-dictate = Diktieren
shop-dictate-stop = Diktat beenden
shop-dictate-how = Auf Englisch diktieren: „new station, left wing“, dann „check, pitot tube, cover off and clear“. Die Erkennung dieses Geräts kennt die Wörter der Kataloge, die hier sind; für andere Wörter in den Einstellungen die Erkennung des Browsers wählen.
shop-nothing-name = Oder mit nichts beginnen: sein Name
shop-nothing-kind = Art
shop-nothing-begin = Mit nichts beginnen
shop-file-large = { $file } hat { $size } MB; gelesen wird eine Checkliste von höchstens { $most } MB. Füge den Teil ein, der die Checkliste ist.
shop-file-no-text = { $file } ist kein Text. Öffne die Datei, kopiere die Checkliste und füge sie hier ein.
shop-kind-aeroplane = Flugzeug
shop-kind-helicopter = Hubschrauber
shop-kind-glider = Segelflugzeug
shop-kind-gyroplane = Tragschrauber
shop-kind-other = Anderes

## Was von anderswo kam

shop-offer-none = Nichts wartet darauf, übernommen zu werden
shop-to-shelf = Zu den Katalogen
shop-offer-version = { $name }, Version { $version }
shop-offer-size = { $stations }, { $checks }.
shop-offer-for = Für { $aircraft }.
shop-offer-new = Einen solchen Katalog gibt es auf diesem Gerät noch nicht.
shop-offer-in-place = Er tritt an die Stelle dessen, der hier ist
shop-offer-walks = Für künftige Rundgänge. Gemachte Rundgänge behalten die Ausgabe, mit der sie gemacht wurden.
shop-same = Er bedeutet dasselbe wie der, der hier ist.
shop-take = Übernehmen
shop-take-in-place = An seiner Stelle übernehmen
shop-leave = Nicht übernehmen
shop-unsigned = Niemand hat diese Datei unterschrieben. Übernimm sie nur von jemandem, den du kennst.
shop-nameless = jemandem, der keinen Namen nennt
shop-signed = Unterschrieben von { $by }, auf dem Gerät mit dem Schlüssel { $key }, und seither unverändert.
shop-key-same = Die Ausgabe, die hier ist, kam vom selben Gerät.
shop-key-other = Die Ausgabe, die hier ist, kam von einem anderen Gerät: frage nach, ob der Schlüssel von { $by } ist.
shop-key-unknown = Ob der Schlüssel von { $by } ist, lässt sich nur durch Nachfragen klären.

## Ein Entwurf

shop-draft = Ein Entwurf
shop-draft-opening = Der Entwurf wird geöffnet …
shop-confirmed = Nichts ist mehr zu bestätigen.
shop-to-confirm = { $n ->
    [one] { $n } Vermutung zu bestätigen.
   *[other] { $n } Vermutungen zu bestätigen.
}
shop-remarks = { $n ->
    [one] { $n } Bemerkung zu Namen und Grenzen.
   *[other] { $n } Bemerkungen zu Namen und Grenzen.
}
shop-view-forms = Stationen und Prüfpunkte
shop-view-file = Die Datei
shop-undo = Rückgängig
shop-redo = Wiederholen
shop-publish-open-it = Herausgeben …
shop-editor-opening = Der Editor wird geöffnet …
shop-unreadable = Die Datei kann so nicht gelesen werden; richte sie unter „Die Datei“.
shop-yaml = Die Datei des Katalogs, als YAML
shop-left = Zeilen des Textes, aus denen nichts wurde: { $n }

## Über den Katalog

shop-about = Über diesen Katalog
shop-about-name = Sein Name
shop-about-kind = Art: bestimmt den Plan
shop-about-source = Seine Quelle: welche Checkliste, von welchem Tag
shop-about-licence = Lizenz: zu welchen Bedingungen er weitergegeben werden darf
shop-about-notice = Hinweis, auf jedem Blatt gezeigt
shop-about-caution = Warnung { $n }
shop-about-caution-more = Noch eine Warnung, vor dem Rundgang vorgelesen
shop-about-in-order = Die Stationen werden in dieser Reihenfolge begangen
shop-gauges = Stufen
shop-gauges-help = Maße in Worten, etwa wie weit ein Riemen nachgibt. Ein Wert wird dann in Stufen und nicht in einer Einheit gemessen.
shop-gauge = Stufenmaß
shop-gauge-steps = Stufen von { $name }, die unterste zuerst, mit Komma dazwischen
shop-gauge-out = Das Stufenmaß { $name } herausnehmen
shop-gauge-add = Ein Stufenmaß hinzufügen
shop-signs-shared = Zeichen des ganzen Katalogs
shop-signs-shared-help = Jedes steht hier einmal und wird bei den Prüfpunkten angekreuzt, an denen es sich finden kann.
shop-sign-add-shared = Ein Zeichen des Katalogs hinzufügen

## In der Reihenfolge des Rundgangs, und auf dem Plan

shop-outline = Stationen und Prüfpunkte, in der Reihenfolge des Rundgangs
shop-grip = { $name } verschieben: ziehen, oder mit den Pfeiltasten
shop-moved-station = { $name } ist jetzt Station { $n } von { $of }.
shop-moved-check = { $name } ist jetzt Prüfpunkt { $n } bei { $station }.
shop-guesses = { $n ->
    [one] { $n } Vermutung
   *[other] { $n } Vermutungen
}
shop-by-ear = nach Gehör
shop-check-add = Einen Prüfpunkt zu { $name } hinzufügen
shop-station-add = Eine Station hinzufügen
shop-plan = Plan: eine Station ziehen, oder mit den Pfeiltasten verschieben
shop-plan-station = Station { $n }, { $name }: { $x } quer, { $y } nach hinten
shop-plan-moved = { $name }: { $x } quer, { $y } nach hinten.
# Namen, die etwas Neues trägt, bis es seinen bekommt. Sie stehen im Katalog, und der ist englisch.
shop-check-new = New check
shop-station-new = New station
shop-sign-new = new sign
shop-measure-new = quantity
shop-gauge-new = new gauge
shop-gauge-low = low
shop-gauge-high = high

## Eine Station

shop-station = Station
shop-station-number = Station { $n }
shop-station-name = Name der Station
shop-station-caution = Warnung, bei der Ankunft vorgelesen
shop-station-in-order = Ihre Prüfpunkte werden in dieser Reihenfolge gemacht
shop-station-out = Die Station herausnehmen

## Ein Prüfpunkt

shop-check = Prüfpunkt
shop-check-nameless = Ein Prüfpunkt
shop-guessed = Aus dem Text vermutet
shop-right = Es ist richtig so
shop-name = Name
shop-means = bedeutet: { $read }
shop-say-people = Andere Namen, die gesagt werden, mit Komma dazwischen
shop-say = Andere Namen, mit Komma dazwischen
shop-aspects = Je für sich anzusprechen, mit Komma dazwischen
shop-aspects-help = Etwa „condition, slack“. Leer: jedes Ergebnis, das den Prüfpunkt nennt, spricht ihn an.
shop-aspects-more = Andere Wörter dafür
shop-aspect-say = Andere Namen von { $name }
shop-aspect-conditions = Zustände, die von { $name } sprechen, mit ihrer Kennung
shop-conditions-help = Etwa crack, leak, chafing.
shop-acts = Wie er gemacht wird
shop-act-look = Ansehen
shop-act-feel = Anfassen
shop-act-move = Bewegen
shop-act-measure = Messen
shop-act-listen = Hinhören
shop-places = Stellen: eine Zahl, oder ihre Namen mit Komma dazwischen
shop-places-sides = Dasselbe auf jeder dieser Seiten, mit Komma dazwischen
shop-places-sides-help = Etwa „left, right“: je zwei sind vier Stellen.
shop-places-plural = Die Mehrzahl allein spricht alle an
shop-places-plural-help = „Brake lines good“ genügt dann; sonst braucht es „both“, „all“, eine Zahl oder jeden Namen.
shop-required = Verlangt
shop-required-when = Wann
shop-required-always = Immer
shop-required-follow-up = Nur wenn ein Zeichen es verlangt
shop-required-some = Bei manchen Gelegenheiten
shop-mandatory = Zwingender Sicherheitspunkt
shop-mandatory-help = Etwa „magnetos off“: als solcher zurückgesagt, wenn er angesprochen ist.
shop-blanket = Ein Urteil über die ganze Station spricht ihn an
shop-blanket-help = „Everything on the tail boom is good“ genügt; sonst will er genannt sein.
shop-optional = Vielleicht nicht eingebaut
shop-optional-help = Er darf als nicht eingebaut zurückgestellt werden.
shop-caution = Warnung, vor der Handlung vorgelesen
shop-source-check = Quelle: woher es kommt
shop-jasc = JASC-Code
shop-jasc-help = Etwa 6210 für Hauptrotorblätter.
shop-check-out = Den Prüfpunkt herausnehmen
shop-check-only = Eine Station hat mindestens einen Prüfpunkt; nimm stattdessen die Station heraus.
shop-more-of = Mehr zu { $name }
shop-take-out = Herausnehmen

## Was gemessen wird

shop-measures = Was gemessen wird
shop-measure = Was
shop-measure-add = Einen Wert hinzufügen
shop-measure-out = Den Wert { $name } herausnehmen
shop-unit = In
shop-unit-quarts = Quarts
shop-unit-gallons = Gallonen
shop-unit-litres = Liter
shop-unit-psi = psi
shop-unit-bar = bar
shop-unit-inches = Zoll
shop-unit-mm = mm
shop-unit-cm = cm
shop-unit-volts = Volt
shop-unit-celsius = °C
shop-unit-fahrenheit = °F
shop-unit-kg = kg
shop-unit-pounds = Pfund
shop-unit-percent = Prozent
shop-unit-other = eine andere Einheit
shop-unit-code = Die Einheit, mit ihrem UCUM-Code
shop-unit-code-help = Etwa [pt_us] für Pints.
shop-no-unit = keine Einheit
shop-no-limit = keine Grenze
shop-low = Mindestens
shop-high = Höchstens

## Was sich finden kann

shop-signs = Was sich finden kann
shop-sign = Zeichen
shop-sign-conditions = Wörter, die es hier bedeuten, mit ihrer Kennung
shop-sign-caution = Warnung, vorgelesen, wenn es gefunden wird
shop-sign-add = Ein Zeichen dieses Prüfpunkts hinzufügen
shop-sign-out = Das Zeichen { $name } herausnehmen
shop-usually = Gewöhnlich
shop-usually-ask = beim Sprecher nachfragen
shop-usually-ground = nicht fliegen, wie im Format vorgesehen
shop-suggests = Deutet auf
shop-demands = Verlangt den Prüfpunkt
shop-demands-these = Verlangt den Prüfpunkt: { $names }
shop-demands-label = { $name } verlangt den Prüfpunkt
shop-demands-choose = einen hinzufügen oder herausnehmen
shop-demands-out = { $name } (herausnehmen)
shop-anywhere = Darf ohne Prüfpunkt gesagt werden
shop-anywhere-help = Etwa „we had a hard landing“.

## Anhören

shop-sounds = Wie er klingt
shop-sounds-aloud = Laut sagen
shop-sound = { $word }: { $by }
shop-by-author = wie von dir geschrieben
shop-by-dictionary = aus dem Wörterbuch
shop-by-spelling = aus der Schreibung vermutet
shop-sound-guessed = Das Wörterbuch kennt dieses Wort nicht. Richte seine Laute, wo sie falsch sind.
shop-voiceless = Dieses Gerät hat keine Stimme, die es sagen kann.
shop-hear = Anhören
shop-hear-nothing = Nichts zu richten.
shop-sort-error = Zu richten:
shop-sort-doubt = Vielleicht ein Versehen:
shop-sort-by-ear = Nach Gehör:
shop-sort-line = Zeile { $line }. { $sort }
shop-try = Einen Satz versuchen
shop-try-at = Gesagt bei
shop-try-anywhere = irgendwo
shop-try-it = Versuchen
shop-proof = Proberundgang
shop-proof-all = { $n ->
    [one] { $n } Satz gelesen; verstanden.
   *[other] { $n } Sätze gelesen; alle verstanden.
}
shop-proof-missed = { $n ->
    [one] { $n } Satz gelesen; { $missed } nicht verstanden:
   *[other] { $n } Sätze gelesen; { $missed } nicht verstanden:
}
shop-read-as = wurde gelesen als: { $read }
shop-say-it = Sagen
shop-say-aloud = „{ $words }“ laut sagen

## Herausgeben

shop-publish = Herausgeben
shop-publish-version = Version { $version } herausgeben
shop-publish-open = { $n ->
    [one] Eine Vermutung ist noch nicht bestätigt.
   *[other] { $n } Vermutungen sind noch nicht bestätigt.
}
shop-publish-first = Die erste Ausgabe dieses Katalogs.
shop-publish-different = Was anders ist
shop-publish-walks = Gemachte Rundgänge behalten die Ausgabe, mit der sie gemacht wurden.
shop-publish-by = Herausgegeben von
shop-publish-why = Warum

## Am Fuß eines Blatts, und wo ein Prüfpunkt darauf steht

shop-foot-catalogue = { $version ->
    [none] Katalog: { $name } (Ausgabe { $edition }).
   *[other] Katalog: { $name }, { $version } (Ausgabe { $edition }).
}
shop-foot-version = Version { $version }
shop-foot-version-of = Version { $version } vom { $on }, von { $by }
shop-foot-unknown = unbekannt
shop-foot-source = Quelle: { $source }
shop-foot-sources = { $more ->
    [0] Quellen einzelner Prüfpunkte: { $sources }.
   *[other] Quellen einzelner Prüfpunkte: { $sources }; und { $more } weitere.
}
shop-foot-licence = Lizenz: { $licence }

## Weitergegeben mit dem, was gelernt wurde

shop-give-learned = { $n ->
    [one] Auf { $aircraft } wurde einmal gelernt, was Wörter von jemandem bedeuten. Damit nennt die Datei, wer sie gesagt hat.
   *[other] Auf { $aircraft } wurde { $n } Mal gelernt, was Wörter von jemandem bedeuten. Damit nennt die Datei, wer sie gesagt hat.
}
shop-give-alone = Den Katalog allein
shop-give-with = Mit dem Gelernten
shop-offer-learned = Gelerntes kommt mit
shop-offer-phrases = { $n ->
    [0] Nichts Neues, das ohne ein Ja übernommen wird.
    [one] Eine Wendung wird mit übernommen.
   *[other] { $n } Wendungen werden mit übernommen.
}
shop-offer-asks = Von da an wären diese Wörter gut, harmlos oder ein milderer Fehler:
shop-offer-asks-yes = Auch diese übernehmen
shop-offer-moves = Hier nach einem anderen Katalog geprüft
shop-offer-move = { $aircraft }: bisher nach { $from }, von da an nach diesem.

## Mit eigener Stimme gesagt

shop-own-say = „{ $name }“ selbst sagen
shop-own-which = Welcher Name
shop-own-stop = Nicht mehr zuhören
shop-own-starting = Die Erkennung dieses Geräts wird geladen.
shop-own-listening = Sag „{ $name }“.
shop-own-hearing = Du wirst gehört.
shop-own-as-heard = „{ $name }“ wurde gehört.
shop-own-as-other = „{ $name }“ wurde für „{ $other }“ gehalten.
shop-own-as-not = „{ $name }“ wurde nicht gehört.
shop-own-faint = Die Stimme war schwach: das Mikrofon näher heranbringen und noch einmal sagen.
shop-own-noisy = Es war zu laut, um danach zu gehen: noch einmal sagen, wo es ruhiger ist.
shop-own-sounds = Die gehörten Laute: { $sounds }
shop-own-mend = Ein Wort nach dem Gehörten richten, dann noch einmal sagen. Was hier steht, gilt neben dem Wörterbuch.
shop-own-write = „{ $word }“ klingt { $sounds }
