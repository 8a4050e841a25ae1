import type { LanguageWords } from './types.js';

export const GERMAN: LanguageWords = {
  name: 'German',
  tables: {
    'positions.csv':
      'Positionen, Ventile, Ventilliste, Armaturen, Armaturenliste, Messstellen, Stellen, technische Plätze, Anlagen',
    'lives.csv':
      'Standzeiten, Wechsel, Membranwechsel, Wechselhistorie, Historie, Austausch, Tausch, Instandhaltung, Wartungshistorie, Membranen',
    'work-orders.csv':
      'Arbeitsaufträge, Aufträge, Instandhaltungsaufträge, Auftragsliste, Auftragshistorie, Wartungsaufträge, Aufträge Instandhaltung, Rückmeldungen, ~Instandhaltung',
    'readings.csv': 'Zähler, Zählerstände, Ablesungen, Messwerte, Messbelege',
    'items.csv': 'Artikel, Teile, Ersatzteile, Materialstamm, Lager, Bestand, Lagerbestand',
    'orders.csv': 'Bestellungen, offene Bestellungen, Einkauf, Lieferungen',
    'lots.csv': 'Chargen, Lose, Chargenbestand',
    'monthly-use.csv': 'Verbrauch, Monatsverbrauch, Verbräuche, Entnahmen',
    'shutdowns.csv': 'Stillstände, Abstellungen, Revisionen, Stillstandsplan, Anlagenstillstand',
  },
  columns: {
    position:
      'Position, Messstelle, Stelle, Ventil, Ventilnummer, Ventil Nr, Armatur, Armaturennummer, Kennzeichen, Anlagenkennzeichen, Equipment, Equipmentnummer, Platz, Einbauort Nr, Tagnummer, Einbaustelle',
    line: 'Linie, Anlage, Produktionslinie, Teilanlage, Strang, System, Fertigungslinie',
    location: 'Ort, Standort, Raum, Halle, Gebäude, Ebene, Einbauort, Stockwerk, Aufstellungsort',
    size: 'Nennweite, Größe, Durchmesser, Nenndurchmesser, Membrangröße, Baugröße, Ventilgröße, Nennweite DN',
    duty: 'Einsatz, Medium, Anwendung, Verwendung, Betriebsmedium, Verwendungszweck, Einsatzart, Funktion, Dienst',
    criticality: 'Kritikalität, Wichtigkeit, Priorität, Risikoklasse, Kritisch, Bedeutung, Risiko',
    steam_cycles_per_week:
      'Dampfzyklen pro Woche, Sterilisationen pro Woche, Dampfsterilisationen pro Woche, Sterilisationen/Woche, Dämpfungen pro Woche',
    strokes_per_day:
      'Hübe pro Tag, Schaltungen pro Tag, Schaltspiele pro Tag, Betätigungen pro Tag, Hübe/Tag, Schaltspiele/Tag',
    hot_cleans_per_week:
      'Heißreinigungen pro Woche, Reinigungen pro Woche, Heißspülungen pro Woche, Reinigungen/Woche, CIP pro Woche',
    steam_temperature_c: 'Dampftemperatur, Sterilisationstemperatur, SIP Temperatur, Dämpftemperatur',
    steam_hold_minutes: 'Haltezeit Dampf, Sterilisationszeit, Dampfhaltezeit, Sterilisationsdauer, Dämpfzeit',
    hot_clean_temperature_c: 'Reinigungstemperatur, CIP Temperatur, Temperatur Heißreinigung, Spültemperatur',
    hot_clean_hold_minutes: 'Reinigungszeit, Reinigungsdauer, CIP Zeit, Haltezeit Reinigung',
    service_temperature_c:
      'Betriebstemperatur, Mediumtemperatur, Prozesstemperatur, Einsatztemperatur, Produkttemperatur',
    accessories: 'Zubehör, Anzahl Zubehör, Anbauteile, Anbaugeräte, Zubehörteile',
    material_next:
      'Werkstoff nächster, nächster Werkstoff, neuer Werkstoff, nächstes Material, künftiger Werkstoff, Werkstoff neu',
    in_service_since: 'in Betrieb seit, Inbetriebnahme, Inbetriebnahmedatum, Betriebsbeginn, in Betrieb ab',
    out_of_service_since:
      'außer Betrieb seit, Außerbetriebnahme, stillgelegt, Stilllegung, außer Betrieb ab, Betriebsende',
    idle: 'Stillstandszeiten, Ruhezeiten, außer Nutzung, stillgesetzt, Pausen',
    material:
      'Werkstoff, Material, Membranwerkstoff, Membranmaterial, Werkstoff Membran, Gummi, Mischung, Membrane',
    lot: 'Charge, Los, Chargennummer, Chargen Nr, Losnummer, Herstellerlos, Herstellercharge',
    fitted:
      'Einbaudatum, eingebaut, eingebaut am, Einbau, Einbau am, Montagedatum, montiert am, Montage, Einbautag, Datum Einbau, Datum Montage, Wechseldatum, ~von',
    removed:
      'Ausbaudatum, ausgebaut, ausgebaut am, Ausbau, Ausbau am, Demontage, Demontagedatum, demontiert am, Datum Ausbau, ersetzt am, gewechselt am, ~bis',
    reason:
      'Grund, Ausbaugrund, Wechselgrund, Anlass, Ursache, Grund des Ausbaus, Grund für Wechsel, Tauschgrund, Veranlassung, Schadensursache',
    finding:
      'Befund, Zustand, Schadensbild, Zustand beim Ausbau, Schaden, Feststellung, Aussehen, Bewertung, Zustandsbefund',
    last_tight:
      'zuletzt dicht, letzte Dichtprüfung, letzter Dichtheitstest, letzte Dichtheitsprüfung, zuletzt dicht am, letzter bestandener Test',
    fitted_by:
      'eingebaut von, Monteur, Mitarbeiter, Techniker, Schlosser, ausgeführt von, Bearbeiter, Kolonne, Montage durch, montiert von',
    recorded:
      'erfasst, erfasst am, Erfassungsdatum, gebucht am, Buchungsdatum, angelegt am, Eingabedatum, gemeldet am, Rückmeldedatum',
    date: 'Datum, Ablesedatum, abgelesen am, Tag, Messdatum, Zeitpunkt, Stichtag, ausgeführt am, erledigt am, durchgeführt am, Ausführungsdatum, Ausführung am, Datum der Arbeit, Arbeitsdatum, abgeschlossen am, Istende, Ist-Ende',
    work: 'Arbeit, Arbeiten, Art der Arbeit, Tätigkeit, Tätigkeitsart, Maßnahme, ausgeführte Arbeit, Arbeitsart, Auftragsart, was wurde gemacht, Leistung, ~Vorgang, ~Kurztext',
    order:
      'Auftrag, Auftragsnummer, Auftrag Nr, Auftragsnr, Arbeitsauftrag, Auftrags-Nr, Arbeitsauftragsnummer',
    done_by: 'ausgeführt von, durchgeführt von, erledigt von, Ausführender',
    strokes: 'Hübe, Hubzähler, Schaltspiele, Schaltungen, Betätigungen, Hubzahl, Anzahl Hübe',
    steam_cycles:
      'Dampfzyklen, Sterilisationen, Dampfsterilisationen, Sterilisationszyklen, SIP Zyklen, Dämpfungen',
    hot_cleans: 'Heißreinigungen, Reinigungen, Reinigungszyklen, CIP Zyklen, Heißspülungen',
    item: 'Artikel, Artikelnummer, Artikel Nr, Materialnummer, Material Nr, Teilenummer, Teile Nr, Ersatzteilnummer, Sachnummer, Bestellnummer Artikel, Ident Nr',
    price: 'Preis, Stückpreis, Einzelpreis, Kosten, Einkaufspreis, Standardpreis, Preis je Stück',
    price_breaks: 'Staffelpreise, Preisstaffel, Mengenpreise, Staffelung',
    lead_time_days:
      'Lieferzeit, Wiederbeschaffungszeit, Beschaffungszeit, Lieferzeit Tage, Planlieferzeit, Lieferfrist',
    lead_time_sd_days:
      'Streuung Lieferzeit, Standardabweichung Lieferzeit, Lieferzeit Streuung, Lieferzeitstreuung, Abweichung Lieferzeit',
    pack: 'Packung, Packungsgröße, Verpackungseinheit, Gebinde, VPE, Gebindegröße, Stück je Packung',
    min_order: 'Mindestbestellmenge, Mindestmenge, Mindestbestellung, Mindestabnahme, Mindestlosgröße',
    shelf_life_months:
      'Lagerfähigkeit, Haltbarkeit, Lagerdauer, Haltbarkeit Monate, maximale Lagerzeit, Lagerzeit',
    shelf_life_left_at_receipt_months:
      'Resthaltbarkeit, Restlaufzeit bei Eingang, Resthaltbarkeit bei Lieferung, Restlagerzeit',
    on_hand:
      'Bestand, Lagerbestand, aktueller Bestand, vorrätig, am Lager, Lagermenge, freier Bestand, ~Menge',
    emergency_days:
      'Eillieferzeit, Notlieferzeit, Expresslieferzeit, Eillieferung Tage, Lieferzeit Express, Lieferzeit eilig',
    emergency_extra_cost:
      'Eilzuschlag, Expresszuschlag, Mehrkosten Eillieferung, Expresskosten, Zuschlag Eillieferung',
    approved_substitute:
      'Ersatzartikel, zugelassener Ersatz, Alternative, Alternativartikel, freigegebener Ersatz, Ersatz',
    quantity: 'Menge, Anzahl, Stück, Stückzahl, Bestellmenge, offene Menge',
    placed: 'bestellt, bestellt am, Bestelldatum, Auftragsdatum, Belegdatum',
    due: 'fällig, Liefertermin, Lieferdatum, erwartet, Termin, fällig am, zugesagt, voraussichtlich, bestätigter Termin',
    received:
      'erhalten, Wareneingang, geliefert, geliefert am, Eingangsdatum, eingegangen am, Wareneingangsdatum, WE Datum',
    cured:
      'vulkanisiert, Vulkanisationsdatum, Herstelldatum, hergestellt, hergestellt am, Produktionsdatum, Fertigungsdatum, Herstellungsdatum',
    use_by:
      'verwendbar bis, haltbar bis, Verfall, Verfallsdatum, Mindesthaltbarkeit, Ablaufdatum, Verfalldatum, Haltbarkeitsdatum',
    month: 'Monat, Jahr und Monat, Kalendermonat, Periode, Buchungsmonat',
    used: 'verbraucht, Verbrauch, Verbrauchsmenge, entnommen, Entnahme, Gesamtverbrauch',
    planned: 'geplant, davon geplant, Planverbrauch, geplanter Verbrauch, für geplante Arbeit',
    name: 'Name, Bezeichnung, Stillstand, Abstellung, Revision, Titel, Benennung',
    start: 'Beginn, Anfang, Start, Startdatum, von, ab, erster Tag, Beginn am',
    end: 'Ende, Enddatum, bis, letzter Tag, Ende am, Schluss',
    crew_hours:
      'Mannstunden, Arbeitsstunden, Personalstunden, verfügbare Stunden, Stunden, Kapazität Stunden, Stunden Mannschaft',
    fitter_hours: 'Monteurstunden, Schlosserstunden, Stunden Schlosser, Stunden Monteure, Mechanikerstunden',
    instrument_hours:
      'MSR Stunden, Stunden MSR, EMSR Stunden, Stunden Messtechnik, Messtechnikerstunden, PLT Stunden',
    most_replacements: 'höchstens Wechsel, maximale Wechsel, max Wechsel, höchste Anzahl Wechsel',
    most_lines: 'höchstens Linien, maximale Linien, max Linien, max Anlagen',
    must: 'muss, Pflicht, zwingend, muss gewechselt werden, Pflichtpositionen',
    not_on: 'nicht an, ausgeschlossen, gesperrt, nicht anfassen, nicht öffnen, tabu',
    lines: 'Linien, Anlagen, betroffene Linien, betroffene Anlagen, Teilanlagen',
    stop_for: 'steht für, Stillstand wegen, Grund des Stillstands, steht wegen, Abstellung für',
  },
  reason: {
    leak: 'undicht, Leckage, Leck, leckt, tropft, undichtigkeit, Undichtheit, Durchlässig, nicht dicht, Leckage nach außen, geplatzt',
    failed_test:
      'n. bestanden, nicht bestanden, Prüfung nicht bestanden, Dichtprüfung nicht bestanden, Test nicht bestanden, Drucktest nicht bestanden, Druckhaltetest nicht bestanden, durchgefallen, Dichtheitstest negativ',
    condition:
      'Zustand, zustandsorientiert, schlechter Zustand, nach Zustand, Sichtprüfung, Befund, zustandsbedingt, auffällig, Inspektionsbefund',
    scheduled:
      'turnusmäßig, planmäßig, geplant, vorbeugend, präventiv, Turnus, Intervall, Wartung, regelmäßig, Routine, Wartungsplan, vorsorglich, Revision',
    opened:
      'geöffnet, andere Arbeit, andere Arbeiten, sonstige Arbeiten, Umbau, anderweitig geöffnet, Öffnung, Antriebstausch, wegen anderer Arbeit geöffnet',
    retired:
      'stillgelegt, außer Betrieb, Stilllegung, ausgemustert, Rückbau, abgebaut, Außerbetriebnahme, verschrottet, demontiert',
    unknown: 'unbekannt, nicht bekannt, keine Angabe, k.A., unklar, ohne Angabe',
  },
  finding: {
    sound:
      'in Ordnung, gut, ohne Befund, o.B., unbeschädigt, wie neu, einwandfrei, intakt, keine Schäden, heil',
    worn: 'verschlissen, Verschleiß, abgenutzt, abgenützt, Abnutzung, dünn, abgerieben',
    cracked: 'rissig, Risse, Riss, angerissen, Rissbildung, Haarrisse',
    torn: 'gerissen, zerrissen, durchgerissen, eingerissen, Loch, durchlöchert, geplatzt, gebrochen',
    swollen: 'gequollen, aufgequollen, Quellung, verquollen, angequollen, weich',
    creased: 'geknickt, Falte, Falten, gefaltet, Knick, gequetscht, eingeklemmt, faltig, verdrückt',
    hardened: 'verhärtet, hart, spröde, Verhärtung, versprödet, verhärtung',
    unknown: 'unbekannt, nicht bekannt, nicht geprüft, keine Angabe, k.A., nicht begutachtet',
  },
  work: {
    replaced:
      'gewechselt, Membrane gewechselt, Membran gewechselt, Membranwechsel, Wechsel, ersetzt, Membran ersetzt, getauscht, Membrantausch, Tausch, Austausch, ausgetauscht, Membran erneuert, erneuert',
    opened:
      'geöffnet, Ventil geöffnet, Öffnung, geöffnet für andere Arbeit, zur Inspektion geöffnet, innere Prüfung, zerlegt, Ventil zerlegt',
    fitted:
      'eingebaut, Einbau, Membran eingebaut, Ersteinbau, Neueinbau, montiert, Erstmontage, Neuinstallation',
    removed:
      'ausgebaut, Ausbau, Ventil ausgebaut, ~demontiert, ~Demontage, außer Betrieb genommen, stillgelegt, rückgebaut, Rückbau',
    retightened:
      'nachgezogen, Schrauben nachgezogen, Nachziehen, nachgespannt, Drehmoment nachgezogen, angezogen',
    inspected:
      'Sichtprüfung, Sichtkontrolle, begutachtet, besichtigt, äußere Prüfung, äußere Inspektion, Rundgang, von außen geprüft',
    tested:
      'dicht, dicht befunden, Dichtheitsprüfung bestanden, Prüfung bestanden, Dichtheitsprüfung in Ordnung, geprüft und dicht, ~geprüft, ~Dichtheitsprüfung, ~Druckprüfung, ~Dichtheitstest',
    calibrated:
      'kalibriert, Kalibrierung, justiert, eingestellt, Stellungsregler kalibriert, Hub eingestellt',
    cancelled:
      'storniert, Storno, abgesagt, nicht ausgeführt, nicht durchgeführt, entfallen, gelöscht, zurückgezogen',
  },
  criticality: {
    low: 'niedrig, gering, unkritisch, klein, nicht kritisch',
    normal: 'normal, mittel, standard, durchschnittlich',
    high: 'hoch, kritisch, sehr hoch, wichtig, groß',
    safety: 'Sicherheit, sicherheitsrelevant, sicherheitskritisch, gefährlich, Gefahr',
  },
  stop_for: {
    replacements: 'Wechsel, Membranwechsel, für Wechsel, ja, Austausch',
    anyway: 'ohnehin, sowieso, in jedem Fall, nein, andere Arbeiten',
  },
  units: {
    days: 'Tage, Tag, Tagen',
    weeks: 'Wochen, Woche',
    months: 'Monate, Monat, Monaten',
    years: 'Jahre, Jahr, Jahren',
    hours: 'Stunden, Stunde, Std',
    minutes: 'Minuten',
    inch: 'Zoll',
    thousand: 'Tausend, Tsd',
  },
};
