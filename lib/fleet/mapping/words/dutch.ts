import type { LanguageWords } from './types.js';

export const DUTCH: LanguageWords = {
  name: 'Dutch',
  tables: {
    'positions.csv':
      'posities, kleppen, afsluiters, afsluiterlijst, kleppenlijst, functieplaatsen, installaties',
    'lives.csv':
      'vervangingen, historie, membraanhistorie, wissels, onderhoudshistorie, membranen, vervangingshistorie',
    'work-orders.csv':
      'werkorders, werkopdrachten, onderhoudsorders, orderlijst, werkorderhistorie, werkbonnen, ~onderhoudshistorie',
    'readings.csv': 'aflezingen, tellers, tellerstanden, metingen',
    'items.csv': 'artikelen, onderdelen, reserveonderdelen, voorraad, magazijn',
    'orders.csv': 'bestellingen, openstaande bestellingen, inkoop, leveringen',
    'lots.csv': 'partijen, charges, batches',
    'monthly-use.csv': 'verbruik, maandverbruik, uitgiften',
    'shutdowns.csv': 'stops, stilstanden, onderhoudsstops, geplande stops',
  },
  columns: {
    position:
      'positie, klep, afsluiter, klepnummer, afsluiternummer, tagnummer, functieplaats, equipment, installatienummer, kenmerk',
    line: 'lijn, productielijn, installatie, systeem, straat, unit',
    location: 'locatie, plaats, gebouw, ruimte, hal, verdieping',
    size: 'maat, diameter, nominale diameter, afmeting, grootte, doorlaat',
    duty: 'dienst, medium, toepassing, gebruik, functie, inzet',
    criticality: 'kriticiteit, criticaliteit, prioriteit, belang, risicoklasse, risico, kritikaliteit',
    steam_cycles_per_week: 'stoomcycli per week, sterilisaties per week, sterilisaties/week',
    strokes_per_day: 'slagen per dag, schakelingen per dag, cycli per dag, bedieningen per dag, slagen/dag',
    hot_cleans_per_week:
      'reinigingen per week, hete reinigingen per week, spoelingen per week, reinigingen/week',
    steam_temperature_c: 'stoomtemperatuur, sterilisatietemperatuur, SIP temperatuur, temperatuur stoom',
    steam_hold_minutes: 'sterilisatietijd, stoomtijd, houdtijd stoom, sterilisatieduur',
    hot_clean_temperature_c: 'reinigingstemperatuur, CIP temperatuur, spoeltemperatuur',
    hot_clean_hold_minutes: 'reinigingstijd, reinigingsduur, CIP tijd',
    service_temperature_c: 'bedrijfstemperatuur, procestemperatuur, mediumtemperatuur, producttemperatuur',
    accessories: 'accessoires, aantal accessoires, toebehoren, instrumenten',
    material_next: 'volgend materiaal, nieuw materiaal, toekomstig materiaal, materiaal volgende',
    in_service_since:
      'in bedrijf sinds, in gebruik sinds, ingebruikname, inbedrijfstelling, in bedrijf vanaf',
    out_of_service_since:
      'buiten bedrijf sinds, buiten gebruik sinds, buitenbedrijfstelling, uit bedrijf sinds',
    idle: 'stilstand, buiten gebruik, stilstandperioden, inactief',
    material: 'materiaal, membraanmateriaal, materiaal membraan, elastomeer, rubber, compound, membraan',
    lot: 'partij, partijnummer, charge, chargenummer, batchnummer, lotnummer, lot',
    fitted:
      'gemonteerd, montagedatum, montage, gemonteerd op, ingebouwd, inbouwdatum, ingebouwd op, geplaatst op, datum montage, datum inbouw, plaatsingsdatum',
    removed:
      'verwijderd, gedemonteerd, demontagedatum, demontage, uitgebouwd, uitbouwdatum, verwijderd op, vervangen op, gedemonteerd op, datum demontage, datum uitbouw, vervangdatum',
    reason:
      'reden, oorzaak, reden van vervanging, vervangingsreden, reden demontage, aanleiding, reden vervanging',
    finding: 'bevinding, toestand, staat, conditie, schade, schadebeeld, waarneming, toestand bij demontage',
    last_tight:
      'laatst dicht, laatste lektest, laatste dichtheidstest, laatst dicht bevonden, laatste geslaagde test',
    fitted_by: 'gemonteerd door, ingebouwd door, monteur, technicus, ploeg, uitgevoerd door, medewerker',
    recorded:
      'vastgelegd, vastgelegd op, geregistreerd, registratiedatum, ingevoerd op, boekingsdatum, aangemaakt op, invoerdatum',
    date: 'datum, afleesdatum, afgelezen op, dag, datum aflezing, uitgevoerd op, uitvoeringsdatum, datum uitvoering, gereed op, gereedgemeld op, afgerond op, werkdatum',
    work: 'werk, werkzaamheid, werkzaamheden, soort werk, type werk, uitgevoerd werk, activiteit, handeling, taak, wat is gedaan',
    order: 'order, werkorder, werkordernummer, werkorder nr, ordernummer, werkopdracht, werkbon, bonnummer',
    done_by: 'uitgevoerd door, gedaan door, uitvoerder',
    strokes: 'slagen, slagenteller, schakelingen, bedieningen, aantal slagen, cycli',
    steam_cycles: 'stoomcycli, sterilisaties, stoomsterilisaties, sterilisatiecycli, SIP cycli',
    hot_cleans: 'hete reinigingen, reinigingen, reinigingscycli, CIP cycli, spoelingen',
    item: 'artikel, artikelnummer, artikelnr, onderdeel, onderdeelnummer, materiaalnummer, artikelcode, onderdeelnr',
    price: 'prijs, stukprijs, kosten, eenheidsprijs, prijs per stuk, kostprijs',
    price_breaks: 'staffelprijzen, prijsstaffel, hoeveelheidsprijzen',
    lead_time_days: 'levertijd, levertijd dagen, besteltijd, leveringstermijn, doorlooptijd',
    lead_time_sd_days:
      'spreiding levertijd, standaardafwijking levertijd, afwijking levertijd, levertijdspreiding',
    pack: 'verpakking, verpakkingseenheid, stuks per verpakking, verpakkingsgrootte, pak',
    min_order:
      'minimale bestelling, minimale bestelhoeveelheid, minimumafname, minimale afname, bestelminimum',
    shelf_life_months: 'houdbaarheid, bewaartijd, opslagduur, houdbaarheid maanden, maximale opslagtijd',
    shelf_life_left_at_receipt_months:
      'resterende houdbaarheid, resterende houdbaarheid bij ontvangst, restant houdbaarheid',
    on_hand: 'voorraad, op voorraad, in voorraad, actuele voorraad, aanwezig, beschikbaar',
    emergency_days: 'spoedlevertijd, spoed dagen, levertijd spoed, noodlevertijd, spoedlevering dagen',
    emergency_extra_cost: 'spoedtoeslag, meerkosten spoed, extra kosten spoed, spoedkosten',
    approved_substitute:
      'vervanger, goedgekeurd alternatief, alternatief, goedgekeurde vervanger, vervangend artikel',
    quantity: 'aantal, hoeveelheid, stuks, bestelhoeveelheid',
    placed: 'besteld, besteld op, besteldatum, orderdatum, bestelling geplaatst',
    due: 'verwacht, leverdatum, verwachte levering, verwacht op, vervaldatum levering, leverdatum verwacht',
    received: 'ontvangen, ontvangen op, ontvangstdatum, geleverd op, goederenontvangst',
    cured: 'gevulkaniseerd, vulkanisatiedatum, productiedatum, fabricagedatum, gemaakt op',
    use_by: 'te gebruiken voor, houdbaar tot, vervaldatum, uiterste gebruiksdatum, gebruiken voor, tht',
    month: 'maand, periode, jaar en maand',
    used: 'verbruikt, verbruik, gebruikt, uitgegeven, verbruikte hoeveelheid',
    planned: 'gepland, waarvan gepland, gepland verbruik',
    name: 'naam, omschrijving, stop, stilstand, benaming, titel',
    start: 'begin, startdatum, van, eerste dag, start, begindatum, vanaf',
    end: 'einde, einddatum, tot, laatste dag, eind, tot en met',
    crew_hours: 'manuren, ploeguren, beschikbare uren, werkuren, uren ploeg',
    fitter_hours: 'monteursuren, uren monteurs, uren monteur, mechanicusuren',
    instrument_hours: 'instrumentatie uren, uren instrumentatie, uren instrumentmakers',
    most_replacements: 'maximaal aantal vervangingen, max vervangingen, hoogstens vervangingen',
    most_lines: 'maximaal aantal lijnen, max lijnen, hoogstens lijnen',
    must: 'verplicht, moet, verplichte posities, moet vervangen worden',
    not_on: 'uitgesloten, niet aan, niet aankomen, geblokkeerd, behalve',
    lines: 'lijnen, betrokken lijnen, installaties',
    stop_for: 'stopt voor, stop voor, reden van stop, stilstand voor',
  },
  reason: {
    leak: 'lek, lekt, lekkage, lekkend, niet dicht, druppelt, lekkage naar buiten, gesprongen, ondicht',
    failed_test:
      'test niet gehaald, test mislukt, afgekeurd bij test, lektest niet gehaald, druktest mislukt, niet geslaagd, test gefaald, lektest afgekeurd',
    condition:
      'conditie, toestand, slechte staat, toestandsafhankelijk, visuele inspectie, op conditie, slechte conditie',
    scheduled:
      'gepland, preventief, periodiek, volgens schema, onderhoud, routine, preventief onderhoud, planmatig, interval',
    opened:
      'geopend, ander werk, andere werkzaamheden, opengemaakt, opening, geopend voor ander werk, ombouw',
    retired: 'buiten gebruik, buiten bedrijf, buiten dienst, gesloopt, afgevoerd, uit bedrijf genomen',
    unknown: 'onbekend, niet bekend, niet opgegeven, niet vermeld',
  },
  finding: {
    sound: 'goed, in orde, heel, onbeschadigd, als nieuw, geen schade, intact, gaaf, zonder gebreken',
    worn: 'versleten, slijtage, afgesleten, gesleten, dun',
    cracked: 'gebarsten, scheur, scheurtjes, barst, scheuren, barsten, haarscheur',
    torn: 'gescheurd, ingescheurd, doorgescheurd, gat, gebroken, kapot, lekgescheurd',
    swollen: 'gezwollen, opgezwollen, zwelling, gezwollen rubber, zacht',
    creased: 'gevouwen, vouw, gekreukt, plooi, plooien, geknikt, ingeklemd, kreukels',
    hardened: 'verhard, hard, bros, verharding, stijf, uitgehard',
    unknown: 'onbekend, niet bekend, niet gecontroleerd, niet geïnspecteerd',
  },
  work: {
    replaced:
      'vervangen, vervanging, membraan vervangen, membraanwissel, gewisseld, wissel, vernieuwd, nieuw membraan',
    opened:
      'geopend, klep geopend, opengemaakt, opening, geopend voor ander werk, inwendige inspectie, gedemonteerd en gemonteerd',
    fitted:
      'gemonteerd, montage, ingebouwd, inbouw, eerste montage, geplaatst, membraan geplaatst, geïnstalleerd',
    removed:
      '~gedemonteerd, ~demontage, uitgebouwd, verwijderd, buiten gebruik gesteld, buiten bedrijf gesteld',
    retightened: 'nagetrokken, bouten nagetrokken, natrekken, aangedraaid, bouten aangedraaid, nagehaald',
    inspected:
      'visuele inspectie, visuele controle, uitwendige inspectie, bekeken, inspectieronde, uitwendige controle',
    tested:
      'dicht, dicht bevonden, lektest goed, lektest geslaagd, dichtheidsproef geslaagd, test geslaagd, ~lektest, ~dichtheidsproef, ~druktest, ~getest',
    calibrated: 'gekalibreerd, kalibratie, afgesteld, ingesteld, ijking, geijkt',
    cancelled: 'geannuleerd, vervallen, niet uitgevoerd, ingetrokken, afgezegd',
  },
  criticality: {
    low: 'laag, lage, klein, niet kritisch, gering',
    normal: 'normaal, normale, gemiddeld, midden, standaard',
    high: 'hoog, hoge, kritisch, belangrijk, zeer hoog',
    safety: 'veiligheid, veiligheidskritisch, gevaarlijk',
  },
  stop_for: {
    replacements: 'vervangingen, vervanging, wissels, ja, membranen',
    anyway: 'toch al, sowieso, in elk geval, nee, ander werk',
  },
  units: {
    days: 'dagen, dag',
    weeks: 'weken, week',
    months: 'maanden, maand',
    years: 'jaren, jaar',
    hours: 'uren, uur',
    minutes: 'minuten',
    inch: 'duim, inch',
    thousand: 'duizend, duizendtallen',
  },
};
