import type { LanguageWords } from './types.js';

export const SWEDISH: LanguageWords = {
  name: 'Swedish',
  tables: {
    'positions.csv': 'positioner, ventiler, ventillista, utrustning, anläggningar',
    'lives.csv': 'byten, historik, membranbyten, membraner, underhållshistorik, byteshistorik',
    'work-orders.csv':
      'arbetsordrar, arbetsorder, underhållsorder, orderlista, orderhistorik, arbetsorderlista, ~underhållshistorik',
    'readings.csv': 'avläsningar, räknare, räkneverk, mätningar',
    'items.csv': 'artiklar, reservdelar, delar, lager, lagersaldo, förråd',
    'orders.csv': 'beställningar, öppna beställningar, inköp, leveranser, inköpsorder',
    'lots.csv': 'partier, satser, batcher',
    'monthly-use.csv': 'förbrukning, månadsförbrukning, uttag',
    'shutdowns.csv': 'stopp, driftstopp, planerade stopp, revisioner, underhållsstopp',
  },
  columns: {
    position:
      'position, ventil, ventilnummer, ventil nr, beteckning, utrustning, objekt, anläggningsnummer, märkning',
    line: 'linje, produktionslinje, anläggning, system, enhet, avdelning',
    location: 'plats, läge, byggnad, rum, hall, våning, placering',
    size: 'storlek, diameter, nominell diameter, dimension, mått',
    duty: 'medium, användning, tjänst, tillämpning, media, funktion',
    criticality: 'kritikalitet, prioritet, viktighet, riskklass, kriticitet, risk, betydelse',
    steam_cycles_per_week:
      'ångcykler per vecka, steriliseringar per vecka, steriliseringar/vecka, ångsteriliseringar per vecka',
    strokes_per_day:
      'slag per dag, manövreringar per dag, öppningar per dag, cykler per dag, slag/dag, slag per dygn',
    hot_cleans_per_week:
      'varmrengöringar per vecka, rengöringar per vecka, diskar per vecka, rengöringar/vecka',
    accessories: 'tillbehör, antal tillbehör, instrument',
    material_next: 'nästa material, nytt material, kommande material',
    in_service_since:
      'i drift fr.o.m., i drift från, i drift sedan, driftsättning, idrifttagning, tagen i drift, driftsatt',
    out_of_service_since:
      'ur drift, ur drift fr.o.m., ur drift sedan, tagen ur drift, avställd, avvecklad, urdrifttagning',
    idle: 'stilleståndstider, ur bruk, vilande, overksam',
    material: 'material, membranmaterial, gummi, elastomer, blandning, membran, gummimaterial',
    lot: 'parti, partinummer, sats, satsnummer, batchnummer, batch, tillverkningssats',
    fitted:
      'monterad, monteringsdatum, montering, monterad den, installerad, installationsdatum, insatt, datum insatt, insatt den, inmonterad',
    removed:
      'demonterad, demonteringsdatum, demontering, demonterad den, urtagen, borttagen, utbytt, bytt den, datum urtagen, uttagen den, bytesdatum',
    reason: 'orsak, anledning, skäl, bytesorsak, orsak till byte, anledning till byte',
    finding: 'fynd, skick, tillstånd, skada, iakttagelse, skick vid demontering, utseende, status vid byte',
    last_tight:
      'senast tät, senaste täthetsprov, senaste läcktest, senast godkänt prov, senaste täthetskontroll',
    fitted_by: 'monterad av, montör, tekniker, arbetslag, utförd av, installerad av, mekaniker',
    recorded:
      'registrerad, registreringsdatum, införd, bokförd, skapad, noterad, registrerad den, införd den',
    date: 'datum, avläsningsdatum, avläst, dag, utfört, utförd den, utfört den, utförandedatum, klart den, avslutad den, arbetsdatum',
    work: 'arbete, typ av arbete, arbetstyp, utfört arbete, åtgärd, aktivitet, uppgift, slag av arbete, vad som gjordes',
    order: 'order, ordernummer, ordernr, arbetsorder, arbetsordernr, arbetsordernummer, AO-nummer',
    done_by: 'utförd av, utfört av, gjord av',
    strokes: 'slag, slagräknare, manövreringar, öppningar, antal slag, cykler',
    steam_cycles: 'ångcykler, steriliseringar, ångsteriliseringar, steriliseringscykler, SIP-cykler',
    hot_cleans: 'varmrengöringar, rengöringar, diskcykler, CIP-cykler, rengöringscykler, varmdiskar',
    item: 'artikel, artikelnummer, artikelnr, reservdelsnummer, detaljnummer, materialnummer, art.nr',
    price: 'pris, styckpris, kostnad, enhetspris, à-pris, pris per styck',
    price_breaks: 'mängdpriser, prisstaffling, staffelpriser, kvantitetspriser',
    lead_time_days: 'ledtid, leveranstid, ledtid dagar, leveranstid dagar, anskaffningstid',
    lead_time_sd_days:
      'ledtidens standardavvikelse, spridning ledtid, standardavvikelse ledtid, ledtid spridning',
    pack: 'förpackning, förpackningsstorlek, antal per förpackning, paket, förp',
    min_order: 'minsta order, minsta orderkvantitet, minsta beställning, minimikvantitet, minsta antal',
    shelf_life_months: 'hållbarhet, lagringstid, lagerhållbarhet, hållbarhet månader, högsta lagringstid',
    shelf_life_left_at_receipt_months:
      'återstående hållbarhet, återstående hållbarhet vid leverans, kvarvarande hållbarhet',
    on_hand: 'i lager, lagersaldo, saldo, på lager, lager, tillgängligt',
    emergency_days: 'akut leveranstid, expressleverans dagar, brådskande leverans dagar, expresstid',
    emergency_extra_cost: 'expresstillägg, akuttillägg, merkostnad express, extra kostnad akut',
    approved_substitute: 'ersättning, godkänd ersättning, alternativ, ersättningsartikel, godkänt alternativ',
    quantity: 'antal, kvantitet, mängd, stycken, beställt antal',
    placed: 'beställd, beställningsdatum, orderdatum, lagd, beställt den',
    due: 'väntas, leveransdatum, förväntad leverans, förväntat, utlovad, beräknad leverans',
    received: 'mottagen, mottaget, mottagningsdatum, levererad, inleverans, ankomstdatum',
    cured: 'vulkad, vulkaniserad, vulkningsdatum, tillverkningsdatum, tillverkad, produktionsdatum',
    use_by: 'använd före, bäst före, utgångsdatum, sista användningsdag, hållbar till, utgår',
    month: 'månad, period, år och månad',
    used: 'förbrukat, förbrukning, använt, uttag, uttaget antal',
    planned: 'planerat, varav planerat, planerad förbrukning',
    name: 'namn, stopp, benämning, beskrivning, titel',
    start: 'start, startdatum, början, från, första dag, börjar',
    end: 'slut, slutdatum, till, sista dag, slutar, t.o.m.',
    crew_hours: 'mantimmar, tillgängliga timmar, arbetstimmar, lagets timmar, timmar',
    fitter_hours: 'montörstimmar, timmar montörer, mekanikertimmar',
    instrument_hours: 'instrumenttimmar, timmar instrument, instrumentteknikers timmar',
    most_replacements: 'högst antal byten, max byten, maximalt antal byten',
    most_lines: 'högst antal linjer, max linjer, maximalt antal linjer',
    must: 'måste, obligatoriska, måste bytas',
    not_on: 'uteslutna, rör ej, spärrade, inte på, utom',
    lines: 'linjer, berörda linjer, anläggningar',
    stop_for: 'stoppas för, stopp för, orsak till stopp, står för',
  },
  reason: {
    leak: 'läckage, läcker, läcka, otät, droppar, läckande, läckte, sprucken och läcker',
    failed_test:
      'ej godkänd, ej godkänt, ej godkänd täthetskontroll, underkänt prov, underkänd, test ej godkänt, täthetsprov underkänt, misslyckat test, ej godkänt prov, underkänt test',
    condition: 'tillstånd, skick, dåligt skick, tillståndsbaserat, visuell kontroll, efter skick',
    scheduled:
      'planerat, planerad, förebyggande, schemalagd, schemalagt, periodiskt, rutin, enligt plan, underhåll, intervall',
    opened: 'öppnad, öppnat, annat arbete, andra arbeten, öppning, öppnad för annat arbete, ombyggnad',
    retired: 'tagen ur drift, ur drift, skrotad, avvecklad, kasserad, nedlagd',
    unknown: 'okänd, okänt, ej känt, ej angivet, ej angiven, vet ej',
  },
  finding: {
    sound: 'bra, hel, felfri, utan anmärkning, oskadad, som ny, i ordning, gott skick, utan skador',
    worn: 'sliten, slitage, nött, utsliten, nedsliten',
    cracked: 'sprucken, spricka, sprickor, sprickig, sprickbildning',
    torn: 'riven, trasig, avsliten, sönderriven, hål, söndrig, reva',
    swollen: 'svälld, svullen, svällning, uppsvälld, mjuk',
    creased: 'veckad, vikt, veck, skrynklig, klämd, vikning, knäckt',
    hardened: 'hård, förhårdnad, hårdnad, spröd, styv, stel',
    unknown: 'okänd, okänt, ej kontrollerad, ej undersökt, ej angivet',
  },
  work: {
    replaced: 'bytt, bytt membran, membran bytt, membranbyte, byte, utbytt, ersatt, förnyad, nytt membran',
    opened: 'öppnad, öppnat, ventil öppnad, öppning, öppnad för annat arbete, isärtagen, invändig inspektion',
    fitted: 'monterad, monterat, montering, första montering, insatt, installerad, nyinstallation',
    removed: '~demonterad, ~demontering, borttagen, tagen ur drift, avställd, nedmonterad',
    retightened: 'efterdragen, efterdragning, bultar efterdragna, åtdragen, bultar åtdragna, efterdraget',
    inspected:
      'okulär besiktning, okulärbesiktning, visuell kontroll, utvändig kontroll, utvändig inspektion, rond, synad',
    tested:
      'tät, befunnen tät, täthetsprov godkänt, prov godkänt, läckagetest godkänt, ~täthetsprov, ~tryckprov, ~läckagetest, ~provad',
    calibrated: 'kalibrerad, kalibrerat, kalibrering, justerad, justering, inställd',
    cancelled: 'inställt, avbeställd, annullerad, ej utförd, makulerad, struken',
  },
  criticality: {
    low: 'låg, lågt, liten, ej kritisk',
    normal: 'normal, medel, normalt, standard, måttlig',
    high: 'hög, kritisk, högt, viktig, mycket hög',
    safety: 'säkerhet, säkerhetskritisk, farlig',
  },
  stop_for: {
    replacements: 'byten, byte, ja, membranbyten',
    anyway: 'ändå, i alla fall, under alla omständigheter, nej, annat arbete',
  },
  units: {
    days: 'dagar, dag, dygn',
    weeks: 'veckor, vecka, v',
    months: 'månader, månad, mån',
    years: 'år',
    hours: 'timmar, timme, tim',
    minutes: 'minuter',
    inch: 'tum',
    thousand: 'tusen, tusental',
  },
};
