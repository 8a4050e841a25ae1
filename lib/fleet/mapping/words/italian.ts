import type { LanguageWords } from './types.js';

export const ITALIAN: LanguageWords = {
  name: 'Italian',
  tables: {
    'positions.csv': 'posizioni, valvole, elenco valvole, apparecchiature, sedi tecniche',
    'lives.csv': 'sostituzioni, storico, storico membrane, cambi, membrane, storico manutenzione, interventi',
    'work-orders.csv':
      'ordini di lavoro, commesse, ODL, elenco interventi, interventi, storico interventi, ordini di manutenzione, ~storico manutenzione',
    'readings.csv': 'letture, contatori, misure, letture contatori',
    'items.csv': 'articoli, ricambi, pezzi, magazzino, scorte, giacenze',
    'orders.csv': 'ordini, ordini aperti, acquisti, consegne',
    'lots.csv': 'lotti, lotti a magazzino',
    'monthly-use.csv': 'consumo, consumo mensile, consumi, prelievi',
    'shutdowns.csv': 'fermate, fermi, fermate programmate, fermi impianto',
  },
  columns: {
    position:
      'posizione, valvola, numero valvola, sigla, sigla valvola, apparecchiatura, sede tecnica, codice valvola, n. valvola',
    line: 'linea, linea di produzione, impianto, unità, sistema, reparto',
    location: 'ubicazione, luogo, edificio, sala, locale, piano, collocazione',
    size: 'dimensione, diametro, diametro nominale, misura, taglia, grandezza',
    duty: 'servizio, fluido, applicazione, impiego, mezzo, uso, funzione, prodotto',
    criticality: 'criticità, priorità, importanza, classe di rischio, rischio',
    steam_cycles_per_week:
      'cicli vapore a settimana, sterilizzazioni a settimana, sterilizzazioni per settimana, cicli di vapore settimanali, sterilizzazioni/settimana',
    strokes_per_day:
      'corse al giorno, cicli al giorno, aperture al giorno, manovre al giorno, corse/giorno, azionamenti al giorno',
    hot_cleans_per_week:
      'lavaggi a settimana, lavaggi a caldo a settimana, pulizie a settimana, lavaggi/settimana, lavaggi per settimana',
    steam_temperature_c:
      'temperatura vapore, temperatura di sterilizzazione, temperatura del vapore, temperatura SIP',
    steam_hold_minutes: 'tempo di sterilizzazione, durata sterilizzazione, tempo vapore',
    hot_clean_temperature_c: 'temperatura di lavaggio, temperatura CIP, temperatura di pulizia',
    hot_clean_hold_minutes: 'tempo di lavaggio, durata lavaggio, tempo CIP',
    service_temperature_c:
      'temperatura di esercizio, temperatura di processo, temperatura del fluido, temperatura prodotto',
    accessories: 'accessori, numero accessori, strumenti',
    material_next: 'prossimo materiale, materiale successivo, nuovo materiale, materiale futuro',
    in_service_since:
      'in servizio dal, messa in servizio, data messa in servizio, avviamento, in esercizio dal',
    out_of_service_since:
      'dismessa il, dismesso il, fuori servizio dal, messa fuori servizio, dismissione, dismesso, dismesso dal, fine servizio',
    idle: 'inattivo, periodi di inattività, fermo, non in uso',
    material: 'materiale, materiale membrana, materiale della membrana, elastomero, gomma, mescola, membrana',
    lot: 'lotto, numero lotto, n. lotto, lotto produttore, numero di lotto',
    fitted:
      'montato, data montaggio, montaggio, montata il, montato il, installato, data installazione, installato il, data di montaggio, inserito il',
    removed:
      'smontato, data smontaggio, smontaggio, smontata il, smontato il, rimosso, data rimozione, rimosso il, sostituito il, data di smontaggio, data sostituzione',
    reason:
      'motivo, causa, ragione, motivo sostituzione, motivo smontaggio, motivo rimozione, causa sostituzione, motivo della sostituzione',
    finding:
      'riscontro, stato, condizione, stato rilevato, esito, danno, osservazione, aspetto, stato allo smontaggio, condizioni',
    last_tight:
      'ultima prova di tenuta, ultima prova tenuta, ultimo test di tenuta, ultima prova superata, a tenuta il',
    fitted_by: 'montato da, installato da, tecnico, montatore, operatore, squadra, eseguito da, meccanico',
    recorded:
      'registrato, registrato il, data registrazione, inserito, data inserimento, creato il, data di registrazione',
    date: 'data, data lettura, letto il, giorno, data di lettura, eseguito il, data esecuzione, data intervento, effettuato il, data lavoro, completato il, terminato il',
    work: 'lavoro, tipo di lavoro, lavoro eseguito, intervento, tipo intervento, tipo di intervento, attività, azione, natura del lavoro, ~operazione',
    order: 'ordine, numero ordine, n. ordine, ordine di lavoro, ODL, numero ODL, commessa, numero commessa',
    done_by: 'eseguito da, effettuato da, esecutore',
    strokes: 'corse, manovre, aperture, contatore corse, azionamenti, numero corse, cicli',
    steam_cycles: 'cicli vapore, sterilizzazioni, cicli di sterilizzazione, cicli di vapore, cicli SIP',
    hot_cleans: 'lavaggi a caldo, lavaggi, pulizie a caldo, cicli di lavaggio, cicli CIP, pulizie',
    item: 'articolo, codice articolo, numero articolo, codice, codice materiale, ricambio, codice ricambio, n. articolo, riferimento',
    price: 'prezzo, prezzo unitario, costo, costo unitario, prezzo al pezzo',
    price_breaks: 'scaglioni di prezzo, prezzi a scaglioni, prezzi per quantità, sconti quantità',
    lead_time_days:
      'tempo di consegna, termine di consegna, tempo di approvvigionamento, lead time giorni, giorni di consegna',
    lead_time_sd_days:
      'deviazione tempo di consegna, deviazione standard consegna, variabilità consegna, scarto tempo di consegna',
    pack: 'confezione, pezzi per confezione, imballo, quantità per confezione, unità di imballo',
    min_order: 'ordine minimo, quantità minima, quantità minima ordine, minimo d’ordine, lotto minimo',
    shelf_life_months:
      'durata a magazzino, conservazione, vita a scaffale, durata di conservazione, conservabilità mesi, durata stoccaggio',
    shelf_life_left_at_receipt_months:
      'durata residua alla consegna, vita residua al ricevimento, durata residua',
    on_hand: 'giacenza, a magazzino, scorta, disponibile, giacenza attuale, stock, esistenza',
    emergency_days: 'consegna urgente giorni, giorni urgenza, tempo di consegna urgente, termine urgente',
    emergency_extra_cost: 'sovrapprezzo urgenza, costo extra urgenza, supplemento urgenza, costo urgenza',
    approved_substitute:
      'sostituto, sostituto approvato, alternativa, articolo alternativo, equivalente approvato',
    quantity: 'quantità, numero, pezzi, q.tà, quantità ordinata, qta',
    placed: 'ordinato, ordinato il, data ordine, emesso il, data dell’ordine',
    due: 'previsto, data consegna, consegna prevista, data prevista, scadenza, atteso il, data di consegna',
    received: 'ricevuto, ricevuto il, data ricevimento, consegnato il, data arrivo, entrata merci',
    cured:
      'vulcanizzato, data vulcanizzazione, data di produzione, data fabbricazione, prodotto il, data produzione',
    use_by:
      'usare entro, scadenza, data di scadenza, data scadenza, da usare entro, utilizzare entro, scade il',
    month: 'mese, periodo, anno e mese',
    used: 'usato, consumo, consumato, prelievi, quantità consumata, utilizzato',
    planned: 'pianificato, di cui pianificato, previsto, consumo previsto, programmato',
    name: 'nome, denominazione, fermata, fermo, descrizione, titolo',
    start: 'inizio, data inizio, dal, primo giorno, da, data di inizio',
    end: 'fine, data fine, al, ultimo giorno, fino al, data di fine',
    crew_hours: 'ore squadra, ore uomo, ore disponibili, ore di lavoro, ore manodopera',
    fitter_hours: 'ore montatori, ore meccanici, ore di montaggio',
    instrument_hours: 'ore strumentisti, ore strumentazione',
    most_replacements: 'massimo sostituzioni, sostituzioni massime, numero massimo sostituzioni',
    most_lines: 'massimo linee, linee massime, numero massimo linee',
    must: 'obbligatorio, obbligatorie, da fare, da sostituire',
    not_on: 'escluso, esclusi, escluse, non toccare, bloccato',
    lines: 'linee, linee interessate, linee coperte, impianti',
    stop_for: 'fermo per, fermata per, motivo fermata, motivo del fermo',
  },
  reason: {
    leak: 'perdita, perde, trafilamento, non a tenuta, trafila, gocciola, perdita esterna, perdita interna, scoppiata',
    failed_test:
      'prova fallita, test fallito, prova non superata, test non superato, prova di tenuta fallita, prova di tenuta non superata',
    condition:
      'condizione, su condizione, cattivo stato, stato, ispezione visiva, in base allo stato, cattive condizioni',
    scheduled:
      'programmato, programmata, preventivo, preventiva, pianificato, pianificata, periodico, periodica, manutenzione preventiva, routine, scadenza',
    opened: 'aperto, aperta, altro lavoro, altri lavori, apertura, aperta per altri lavori, modifica',
    retired: 'dismesso, dismessa, fuori servizio, rottamato, messa fuori servizio, smantellato',
    unknown: 'sconosciuto, sconosciuta, non noto, non nota, non indicato, non registrato, ignoto',
  },
  finding: {
    sound: 'buono, buona, integro, integra, senza danni, come nuova, in ordine, sana, sano, nessun difetto',
    worn: 'usurato, usurata, usura, consumato, consumata, abraso',
    cracked: 'fessurato, fessurata, crepa, crepe, criccato, screpolata, incrinata, screpolato',
    torn: 'strappato, strappata, lacerata, lacerato, rotto, rotta, forata, bucata, strappo',
    swollen: 'rigonfio, rigonfia, gonfio, gonfia, rigonfiamento, gonfiata',
    creased: 'piegato, piegata, piega, pieghe, grinze, schiacciata, pizzicata, sgualcita',
    hardened: 'indurito, indurita, duro, dura, fragile, rigida, indurimento, infragilita',
    unknown: 'sconosciuto, non noto, non ispezionato, non controllato, non indicato',
  },
  work: {
    replaced:
      'sostituito, sostituita, sostituzione, membrana sostituita, sostituzione membrana, cambio, cambio membrana, cambiata, rinnovata, membrana nuova',
    opened:
      'aperto, aperta, apertura, valvola aperta, aperta per altri lavori, ispezione interna, smontata e rimontata',
    fitted:
      'montato, montata, montaggio, primo montaggio, installata, installazione, membrana montata, prima installazione',
    removed: '~smontato, ~smontata, ~smontaggio, rimossa, rimozione, messa fuori servizio, dismessa',
    retightened:
      'riserrato, riserrata, riserraggio, bulloni riserrati, serraggio bulloni, serraggio, viti serrate',
    inspected:
      'ispezione visiva, controllo visivo, ispezione esterna, controllo esterno, ispezionata, esame visivo',
    tested:
      'a tenuta, trovata a tenuta, prova di tenuta superata, prova superata, test superato, ~prova di tenuta, ~prova di pressione, ~testata, ~collaudo',
    calibrated: 'calibrato, calibrata, calibrazione, taratura, tarata, regolata, regolazione',
    cancelled: 'annullato, annullata, non eseguito, non eseguita, cancellato, stornato',
  },
  criticality: {
    low: 'bassa, basso, minore, non critica',
    normal: 'normale, media, medio, standard',
    high: 'alta, alto, critica, critico, elevata, molto alta',
    safety: 'sicurezza, critica per la sicurezza, pericolosa, pericoloso',
  },
  stop_for: {
    replacements: 'sostituzioni, cambi, membrane, sì',
    anyway: 'comunque, in ogni caso, no, altri lavori',
  },
  units: {
    days: 'giorni, giorno, gg',
    weeks: 'settimane, settimana, sett',
    months: 'mesi, mese',
    years: 'anni, anno',
    hours: 'ore, ora',
    minutes: 'minuti',
    inch: 'pollice, pollici',
    thousand: 'migliaia, mille',
  },
};
