import type { LanguageWords } from './types.js';

export const POLISH: LanguageWords = {
  name: 'Polish',
  tables: {
    'positions.csv': 'pozycje, zawory, lista zaworów, urządzenia, armatura, miejsca',
    'lives.csv':
      'wymiany, historia, historia wymian, historia membran, membrany, historia konserwacji, naprawy',
    'work-orders.csv':
      'zlecenia, zlecenia pracy, zlecenia robocze, lista zleceń, historia zleceń, zlecenia utrzymania ruchu, zlecenia UR, ~naprawy, ~historia konserwacji',
    'readings.csv': 'odczyty, liczniki, odczyty liczników, pomiary',
    'items.csv': 'artykuły, części, części zamienne, magazyn, zapasy, indeksy',
    'orders.csv': 'zamówienia, otwarte zamówienia, zakupy, dostawy',
    'lots.csv': 'partie, partie magazynowe',
    'monthly-use.csv': 'zużycie, zużycie miesięczne, rozchody',
    'shutdowns.csv': 'postoje, przestoje, postoje remontowe, remonty, planowane postoje',
  },
  columns: {
    position:
      'pozycja, zawór, numer zaworu, nr zaworu, oznaczenie, urządzenie, miejsce techniczne, symbol zaworu, oznaczenie zaworu',
    line: 'linia, linia produkcyjna, instalacja, system, ciąg, jednostka',
    location: 'lokalizacja, miejsce, budynek, pomieszczenie, hala, piętro',
    size: 'rozmiar, średnica, średnica nominalna, wymiar, wielkość',
    duty: 'medium, zastosowanie, czynnik, przeznaczenie, funkcja, praca',
    criticality: 'krytyczność, priorytet, ważność, klasa ryzyka, ryzyko, istotność',
    steam_cycles_per_week:
      'cykle pary na tydzień, sterylizacje na tydzień, sterylizacje/tydzień, sterylizacji tygodniowo',
    strokes_per_day:
      'skoki na dzień, cykle na dzień, otwarcia na dzień, przełączenia na dzień, skoków dziennie, cykli dziennie',
    hot_cleans_per_week:
      'mycia na tydzień, gorące mycia na tydzień, mycia gorące na tydzień, mycia/tydzień, czyszczenia na tydzień',
    steam_temperature_c: 'temperatura pary, temperatura sterylizacji, temperatura SIP',
    steam_hold_minutes: 'czas sterylizacji, czas parowania, czas pary',
    hot_clean_temperature_c: 'temperatura mycia, temperatura CIP, temperatura czyszczenia',
    hot_clean_hold_minutes: 'czas mycia, czas CIP, czas czyszczenia',
    service_temperature_c: 'temperatura pracy, temperatura procesu, temperatura medium, temperatura produktu',
    accessories: 'akcesoria, liczba akcesoriów, osprzęt, wyposażenie',
    material_next: 'następny materiał, nowy materiał, kolejny materiał, przyszły materiał',
    in_service_since: 'w eksploatacji od, uruchomienie, data uruchomienia, w ruchu od, w użyciu od',
    out_of_service_since:
      'wyłączony z ruchu, wyłączenie z ruchu, wyłączony od, wycofany, wycofany z eksploatacji, wyłączenie z eksploatacji, data wycofania, poza eksploatacją od',
    idle: 'przestoje, okresy przestoju, nieużywany, nieczynny',
    material: 'materiał, materiał membrany, tworzywo, elastomer, guma, mieszanka, membrana',
    lot: 'partia, numer partii, nr partii, seria, numer serii, partia producenta',
    fitted:
      'zamontowano, data montażu, montaż, zamontowany, założono, data założenia, zamontowana, data zabudowy, zainstalowano',
    removed:
      'zdemontowano, data demontażu, demontaż, wymontowano, zdjęto, data zdjęcia, usunięto, data wymiany, data wymontowania, wymieniono',
    reason: 'powód, przyczyna, powód wymiany, przyczyna wymiany, powód demontażu, przyczyna demontażu',
    finding:
      'stan, stwierdzenie, ocena, stan przy demontażu, uszkodzenie, obserwacja, wygląd, wynik oględzin',
    last_tight:
      'ostatnia próba szczelności, ostatnio szczelny, ostatni test szczelności, ostatnia udana próba',
    fitted_by: 'zamontował, montował, monter, technik, mechanik, brygada, wykonał, wykonawca',
    recorded:
      'zapisano, data zapisu, data wpisu, wprowadzono, data wprowadzenia, data rejestracji, utworzono, zarejestrowano',
    date: 'data, data odczytu, odczytano, dzień, wykonano, data wykonania, wykonano dnia, data pracy, zakończono, data realizacji, zrealizowano',
    work: 'praca, prace, rodzaj pracy, rodzaj prac, wykonana praca, czynność, rodzaj czynności, typ pracy, zakres prac, działanie, co wykonano, rodzaj zlecenia, ~operacja',
    order: 'zlecenie, numer zlecenia, nr zlecenia, zlecenie pracy, nr zlec',
    done_by: 'wykonany przez, wykonane przez, wykonał, wykonawca, realizował',
    strokes: 'skoki, licznik skoków, przełączenia, otwarcia, liczba skoków, cykle',
    steam_cycles: 'cykle pary, sterylizacje, cykle sterylizacji, cykle SIP, sterylizacje parą',
    hot_cleans: 'gorące mycia, mycia gorące, mycia, cykle mycia, cykle CIP, czyszczenia',
    item: 'artykuł, indeks, numer artykułu, nr artykułu, numer części, nr części, indeks materiałowy, część, numer materiału, kod artykułu',
    price: 'cena, cena jednostkowa, koszt, cena za sztukę, koszt jednostkowy',
    price_breaks: 'progi cenowe, ceny ilościowe, rabaty ilościowe',
    lead_time_days: 'czas dostawy, termin dostawy, czas dostawy dni, czas realizacji, okres dostawy',
    lead_time_sd_days:
      'odchylenie czasu dostawy, odchylenie standardowe czasu dostawy, zmienność czasu dostawy',
    pack: 'opakowanie, sztuk w opakowaniu, wielkość opakowania, jednostka opakowania, opak',
    min_order: 'minimalne zamówienie, minimalna ilość zamówienia, minimalna ilość, minimum zamówienia',
    shelf_life_months:
      'okres przechowywania, trwałość, okres magazynowania, czas składowania, trwałość miesiące, przydatność',
    shelf_life_left_at_receipt_months:
      'pozostały okres przechowywania, pozostała trwałość, pozostała trwałość przy dostawie',
    on_hand: 'stan magazynowy, zapas, na stanie, w magazynie, dostępne, stan magazynu, ilość na stanie',
    emergency_days: 'pilna dostawa dni, czas pilnej dostawy, dostawa ekspresowa dni, dostawa awaryjna dni',
    emergency_extra_cost:
      'dopłata za pilną dostawę, koszt pilnej dostawy, dopłata ekspresowa, dodatkowy koszt pilnej dostawy',
    approved_substitute: 'zamiennik, zatwierdzony zamiennik, alternatywa, odpowiednik, dopuszczony zamiennik',
    quantity: 'ilość, liczba, sztuki, szt, liczba sztuk, ilość zamówiona',
    placed: 'zamówiono, data zamówienia, złożono, złożone',
    due: 'oczekiwane, termin, data dostawy, przewidywana dostawa, planowana dostawa, spodziewane, oczekiwana dostawa',
    received: 'otrzymano, data przyjęcia, przyjęto, dostarczono, data otrzymania',
    cured: 'wulkanizacja, data wulkanizacji, data produkcji, wyprodukowano, zwulkanizowano',
    use_by: 'zużyć do, przydatne do, termin przydatności, data ważności, ważne do, termin ważności',
    month: 'miesiąc, okres, rok i miesiąc',
    used: 'zużyto, zużycie, wydano, rozchód, zużyta ilość',
    planned: 'planowane, w tym planowane, zaplanowano, planowane zużycie',
    name: 'nazwa, postój, przestój, opis, tytuł',
    start: 'początek, data rozpoczęcia, od, pierwszy dzień, rozpoczęcie, start',
    end: 'koniec, data zakończenia, do, ostatni dzień, zakończenie',
    crew_hours: 'roboczogodziny, godziny brygady, dostępne godziny, godziny pracy, godziny załogi',
    fitter_hours: 'godziny monterów, godziny mechaników',
    instrument_hours: 'godziny automatyków, godziny aparatury, godziny AKP',
    most_replacements: 'maksymalna liczba wymian, max wymian, najwięcej wymian',
    most_lines: 'maksymalna liczba linii, max linii, najwięcej linii',
    must: 'obowiązkowe, musi, koniecznie, do wymiany',
    not_on: 'wykluczone, nie ruszać, zablokowane, oprócz',
    lines: 'linie, objęte linie, instalacje',
    stop_for: 'postój dla, postój z powodu, powód postoju, stoi dla',
  },
  reason: {
    leak: 'nieszczelność, nieszczelny, nieszczelna, wyciek, przeciek, cieknie, przecieka, pęknięta i cieknie, kapie',
    failed_test:
      'próba szczelności negatywna, wynik negatywny, test niezaliczony, próba nieudana, negatywny wynik próby, nie przeszedł próby, próba szczelności nieudana, test negatywny, niezaliczona próba',
    condition: 'stan, ze względu na stan, zły stan, według stanu, oględziny, stan techniczny',
    scheduled:
      'planowo, planowa, planowe, planowy, zapobiegawczo, prewencyjnie, okresowo, okresowa, prewencja, zgodnie z planem, konserwacja, planowa wymiana, przegląd',
    opened: 'otwarty, otwarto, inna praca, inne prace, otwarcie, otwarty do innych prac, przeróbka',
    retired: 'wycofany, wycofano, wyłączony z eksploatacji, złomowany, zlikwidowany, likwidacja',
    unknown: 'nieznany, nieznana, nieznane, nie podano, brak danych, nie wiadomo',
  },
  finding: {
    sound:
      'dobry, dobra, bez uszkodzeń, w porządku, sprawny, sprawna, jak nowa, bez wad, cała, nieuszkodzona',
    worn: 'zużyty, zużyta, zużycie, starta, starty, wytarta',
    cracked: 'pęknięty, pęknięta, pęknięcie, spękany, spękana, pęknięcia, rysy',
    torn: 'rozdarty, rozdarta, rozerwana, rozerwany, przerwana, dziura, podarta, porwana, rozdarcie',
    swollen: 'spuchnięty, spuchnięta, spęczniała, spęczniały, napęczniała, spęcznienie',
    creased: 'pognieciony, pognieciona, zagięta, zagięty, fałda, zgięta, pofałdowana, przycięta, zagniecenie',
    hardened: 'stwardniały, stwardniała, twarda, twardy, krucha, sztywna, stwardnienie',
    unknown: 'nieznany, nie sprawdzono, brak danych, nie badano, nieznane',
  },
  work: {
    replaced:
      'wymieniono, wymieniona, wymieniony, wymiana, wymiana membrany, membrana wymieniona, wymieniono membranę, zamieniono, nowa membrana',
    opened:
      'otwarto, otwarty, otwarto zawór, otwarcie, otwarcie zaworu, otwarto do innej pracy, przegląd wewnętrzny, rozebrano, rozebrano zawór',
    fitted:
      'zamontowano, montaż, założono, pierwszy montaż, montaż membrany, zamontowano membranę, zabudowano, nowy montaż',
    removed:
      '~zdemontowano, ~demontaż, wymontowano, demontaż zaworu, wyłączono z eksploatacji, wycofano z eksploatacji, zlikwidowano',
    retightened: 'dokręcono, dokręcenie, dokręcono śruby, dokręcanie śrub, dociągnięto, dociągnięto śruby',
    inspected:
      'oględziny, oględziny zewnętrzne, kontrola wzrokowa, obejrzano, obchód, kontrola zewnętrzna, skontrolowano z zewnątrz',
    tested:
      'szczelny, szczelna, próba szczelności pozytywna, próba pozytywna, test zaliczony, wynik pozytywny, sprawdzono szczelny, ~próba szczelności, ~test szczelności, ~próba ciśnieniowa',
    calibrated: 'skalibrowano, kalibracja, wykalibrowano, regulacja, wyregulowano, wzorcowanie, nastawiono',
    cancelled: 'anulowano, anulowane, odwołano, nie wykonano, nie wykonane, skreślono, wycofane zlecenie',
  },
  criticality: {
    low: 'niska, niski, mała, niekrytyczna',
    normal: 'normalna, normalny, średnia, średni, standardowa, zwykła',
    high: 'wysoka, wysoki, krytyczna, krytyczny, duża, bardzo wysoka',
    safety: 'bezpieczeństwo, krytyczna dla bezpieczeństwa, niebezpieczna, niebezpieczny',
  },
  stop_for: {
    replacements: 'wymiany, wymiana, tak, membrany',
    anyway: 'i tak, w każdym razie, nie, inne prace, w każdym przypadku',
  },
  units: {
    days: 'dni, dzień',
    weeks: 'tygodnie, tygodni, tydzień, tyg',
    months: 'miesiące, miesięcy, miesiąc, mies',
    years: 'lata, lat, rok',
    hours: 'godziny, godzin, godz',
    minutes: 'minuty, minut',
    inch: 'cal, cale, cali',
    thousand: 'tysiące, tys',
  },
};
