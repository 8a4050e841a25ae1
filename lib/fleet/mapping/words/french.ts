import type { LanguageWords } from './types.js';

export const FRENCH: LanguageWords = {
  name: 'French',
  tables: {
    'positions.csv':
      'positions, vannes, liste des vannes, repères, équipements, robinetterie, postes techniques',
    'lives.csv':
      'remplacements, historique, historique des membranes, historique de maintenance, changements, membranes, interventions',
    'work-orders.csv':
      'ordres de travail, bons de travail, interventions, OT, liste des interventions, historique des interventions, demandes de travail, ~historique de maintenance',
    'readings.csv': 'relevés, compteurs, relevés de compteurs, mesures',
    'items.csv': 'articles, pièces, pièces de rechange, stock, magasin, pièces détachées',
    'orders.csv': 'commandes, commandes en cours, achats, livraisons',
    'lots.csv': 'lots, lots en stock',
    'monthly-use.csv': 'consommation, consommation mensuelle, consommations, sorties',
    'shutdowns.csv': 'arrêts, arrêts planifiés, arrêts techniques, grands arrêts',
  },
  columns: {
    position:
      'repère, position, vanne, numéro de vanne, n° vanne, équipement, code équipement, poste technique, étiquette, repère vanne, identifiant',
    line: 'ligne, ligne de production, installation, unité, système, atelier',
    location: 'emplacement, lieu, bâtiment, salle, local, étage, localisation, endroit',
    size: 'taille, diamètre, diamètre nominal, dimension, calibre',
    duty: 'service, fluide, application, produit, utilisation, usage, milieu, fonction',
    criticality: 'criticité, priorité, importance, niveau de criticité, classe de risque, risque',
    steam_cycles_per_week:
      'cycles vapeur par semaine, stérilisations par semaine, vapeur par semaine, stérilisations/semaine',
    strokes_per_day:
      'manœuvres par jour, cycles par jour, ouvertures par jour, courses par jour, manœuvres/jour',
    hot_cleans_per_week:
      'nettoyages par semaine, nettoyages à chaud par semaine, lavages par semaine, nettoyages/semaine',
    steam_temperature_c:
      'température vapeur, température de stérilisation, température de la vapeur, température SIP',
    steam_hold_minutes:
      'durée de stérilisation, temps de stérilisation, palier vapeur, temps de maintien vapeur',
    hot_clean_temperature_c:
      'température de nettoyage, température CIP, température NEP, température de lavage',
    hot_clean_hold_minutes: 'durée de nettoyage, temps de nettoyage, durée CIP, durée NEP',
    service_temperature_c:
      'température de service, température du procédé, température du fluide, température du produit',
    accessories: 'accessoires, nombre d’accessoires, instruments, équipements annexes',
    material_next:
      'prochaine matière, matière suivante, nouvelle matière, futur matériau, prochain matériau, matériau suivant',
    in_service_since: 'en service depuis, mise en service, date de mise en service, début de service',
    out_of_service_since:
      'hors service depuis, mise hors service, fin de service, date de mise hors service, déclassé',
    idle: 'inactif, périodes d’inactivité, à l’arrêt, hors utilisation',
    material:
      'matière, matériau, matière membrane, matériau de membrane, élastomère, caoutchouc, mélange, membrane, matière de la membrane',
    lot: 'lot, numéro de lot, n° lot, n° de lot, lot fabricant',
    fitted:
      'posé le, date de pose, pose, monté le, date de montage, montage, installé le, date d’installation, installé, mise en place, posée, date pose',
    removed:
      'déposé le, date de dépose, dépose, démonté le, date de démontage, démontage, retiré le, remplacé le, date de remplacement, déposée, date dépose',
    reason:
      'motif, raison, cause, motif de remplacement, motif de dépose, raison du remplacement, motif du démontage, cause de dépose',
    finding:
      'constat, état, état constaté, état à la dépose, observation, aspect, dommage, résultat, état membrane',
    last_tight:
      'dernier test étanche, dernier test d’étanchéité, étanche le, dernière épreuve d’étanchéité, dernier contrôle étanche',
    fitted_by:
      'posé par, monté par, technicien, monteur, intervenant, équipe, installé par, opérateur, réalisé par',
    recorded: 'enregistré le, saisi le, date de saisie, date d’enregistrement, créé le, enregistré',
    date: 'date, date de relevé, relevé le, jour, date du relevé, date de mesure, réalisé le, effectué le, exécuté le, date d’intervention, date intervention, date de réalisation, terminé le, date des travaux, date d’exécution',
    work: 'travail, travaux, intervention, nature de l’intervention, type d’intervention, nature des travaux, type de travail, travail effectué, travail réalisé, activité, tâche, action, ~opération',
    order:
      'ordre, numéro d’ordre, n° d’ordre, ordre de travail, bon de travail, n° OT, OT, numéro OT, n° BT, BT, numéro de bon',
    done_by: 'effectué par, exécuté par, fait par',
    strokes: 'manœuvres, courses, ouvertures, compteur de manœuvres, nombre de manœuvres, cycles',
    steam_cycles: 'cycles vapeur, stérilisations, cycles de stérilisation, stérilisations vapeur, cycles SIP',
    hot_cleans: 'nettoyages à chaud, nettoyages, lavages, cycles de nettoyage, cycles NEP, NEP',
    item: 'article, code article, référence, numéro d’article, référence article, n° article, pièce, numéro de pièce, code pièce',
    price: 'prix, prix unitaire, coût, coût unitaire, prix d’achat, tarif',
    price_breaks: 'prix dégressifs, paliers de prix, prix par quantité, tarifs dégressifs',
    lead_time_days: 'délai, délai de livraison, délai d’approvisionnement, délai jours, délai fournisseur',
    lead_time_sd_days: 'écart type du délai, écart-type délai, variation du délai, dispersion du délai',
    pack: 'conditionnement, paquet, taille du paquet, unité d’emballage, pièces par paquet, lot de vente',
    min_order:
      'commande minimale, quantité minimale, minimum de commande, quantité minimale de commande, mini commande',
    shelf_life_months:
      'durée de conservation, durée de stockage, durée de vie en stock, conservation, péremption mois',
    shelf_life_left_at_receipt_months:
      'conservation restante à la réception, durée restante à réception, conservation restante',
    on_hand: 'en stock, stock, stock disponible, quantité en stock, stock actuel, disponible',
    emergency_days: 'délai d’urgence, délai urgent, délai express, jours urgence',
    emergency_extra_cost:
      'surcoût urgence, supplément urgence, surcoût express, supplément express, coût urgence',
    approved_substitute:
      'substitut, remplaçant, article de substitution, substitut approuvé, alternative, équivalent approuvé',
    quantity: 'quantité, nombre, qté, pièces, quantité commandée',
    placed: 'commandé le, date de commande, passée le, commandé, date commande',
    due: 'prévu le, date de livraison, livraison prévue, attendu le, échéance, date prévue, livraison attendue',
    received: 'reçu le, date de réception, réception, livré le, reçu',
    cured: 'vulcanisé, date de vulcanisation, date de fabrication, fabriqué le, vulcanisé le',
    use_by:
      'à utiliser avant, péremption, date de péremption, date limite, utiliser avant, date d’expiration, expire le',
    month: 'mois, période, année et mois',
    used: 'consommé, consommation, utilisé, sorties, quantité consommée',
    planned: 'planifié, dont planifié, prévu, dont prévu, consommation prévue',
    name: 'nom, désignation, arrêt, libellé, intitulé',
    start: 'début, date de début, du, premier jour, commence le, de',
    end: 'fin, date de fin, au, dernier jour, finit le, jusqu’au',
    crew_hours: 'heures équipe, heures disponibles, heures de travail, heures d’équipe, heures main d’œuvre',
    fitter_hours: 'heures monteurs, heures mécaniciens, heures de monteur, heures mécanique',
    instrument_hours: 'heures instrumentistes, heures instrumentation, heures instrumentiste',
    most_replacements: 'remplacements maximum, maximum de remplacements, max remplacements',
    most_lines: 'lignes maximum, maximum de lignes, max lignes',
    must: 'obligatoire, impératif, à remplacer impérativement, à faire',
    not_on: 'exclu, exclus, ne pas toucher, interdit, sauf',
    lines: 'lignes, lignes concernées, lignes couvertes, installations',
    stop_for: 'arrêt pour, arrêté pour, motif de l’arrêt, raison de l’arrêt',
  },
  reason: {
    leak: 'fuite, fuit, fuyard, non étanche, fuite externe, fuite interne, éclaté, goutte, fuyante, perte d’étanchéité',
    failed_test:
      'test échoué, échec du test, essai non conforme, test non conforme, échec test d’étanchéité, épreuve échouée, test raté, échec au test',
    condition: 'état, sur état, selon état, mauvais état, inspection visuelle, conditionnel, constat visuel',
    scheduled:
      'planifié, préventif, programmé, systématique, périodique, entretien, maintenance préventive, échéance, planifiée, préventive',
    opened:
      'ouvert, ouverte, autre travail, autres travaux, ouverture, ouvert pour autre travail, modification, autre intervention',
    retired: 'retiré du service, hors service, déclassé, mis au rebut, démantelé, réformé, mise hors service',
    unknown: 'inconnu, inconnue, non connu, non renseigné, non précisé, n.c.',
  },
  finding: {
    sound:
      'bon, bon état, intact, sans défaut, en bon état, comme neuf, RAS, rien à signaler, sain, conforme',
    worn: 'usé, usée, usure, abrasé, aminci',
    cracked: 'fissuré, fissure, fissures, craquelé, fissurée, fendu',
    torn: 'déchiré, déchirure, déchirée, percé, rompu, troué, éclaté, cassé',
    swollen: 'gonflé, gonflement, gonflée, ramolli',
    creased: 'pliée, plissée, plié, pli, plis, froissé, pincé, plissé, écrasé',
    hardened: 'durci, durcie, durcissement, dur, cassant, rigide, fragilisé',
    unknown: 'inconnu, non renseigné, non contrôlé, non inspecté, non connu',
  },
  work: {
    replaced:
      'remplacé, remplacée, remplacement, membrane remplacée, remplacement membrane, remplacement de la membrane, changement, changement membrane, changé, changée, échange, échangée, membrane changée',
    opened:
      'ouvert, ouverte, vanne ouverte, ouverture, ouverture de la vanne, ouverte pour autre travail, inspection interne, démontée et remontée',
    fitted:
      'posé, posée, pose, première pose, membrane posée, monté, montée, installé, installée, première installation',
    removed:
      'déposé, déposée, dépose, vanne déposée, ~démonté, ~démontée, retirée du service, mise hors service',
    retightened:
      'resserré, resserrée, resserrage, boulons resserrés, resserrage des boulons, resserrage vis, serrage, serrage au couple',
    inspected:
      'inspecté, inspectée, inspection visuelle, contrôle visuel, examen visuel, inspection externe, ronde, visite extérieure',
    tested:
      'étanche, trouvée étanche, test réussi, essai réussi, test d’étanchéité réussi, essai d’étanchéité conforme, épreuve conforme, ~testé, ~test d’étanchéité, ~essai d’étanchéité, ~épreuve d’étanchéité',
    calibrated:
      'calibré, calibrée, étalonné, étalonnage, calibrage, réglage, réglé, ajusté, réglage positionneur',
    cancelled: 'annulé, annulée, non réalisé, non effectué, non exécuté, supprimé, abandonné',
  },
  criticality: {
    low: 'faible, basse, bas, mineur, non critique',
    normal: 'normal, normale, moyen, moyenne, standard',
    high: 'haute, élevé, élevée, critique, haut, forte, majeur',
    safety: 'sécurité, sûreté, critique sécurité, dangereux',
  },
  stop_for: {
    replacements: 'remplacements, remplacement, changements, oui, membranes',
    anyway: 'de toute façon, quoi qu’il arrive, non, en tout cas, autres travaux',
  },
  units: {
    days: 'jours, jour, j',
    weeks: 'semaines, semaine, sem',
    months: 'mois',
    years: 'ans, années, an, année',
    hours: 'heures, heure',
    minutes: 'minutes',
    inch: 'pouce, pouces',
    thousand: 'milliers, mille',
  },
};
