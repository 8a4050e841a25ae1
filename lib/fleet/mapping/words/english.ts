import type { LanguageWords } from './types.js';

export const ENGLISH: LanguageWords = {
  name: 'English',
  tables: {
    'positions.csv': 'positions, valves, valve list, valve register, equipment list, assets',
    'lives.csv':
      'lives, replacements, replacement history, diaphragm history, diaphragm changes, change log, changeouts, maintenance history, history',
    'work-orders.csv':
      'work orders, maintenance orders, job history, work order history, completed work orders, jobs, ~maintenance history, ~history',
    'readings.csv': 'readings, counters, counter readings, cycle counts, meter readings',
    'items.csv': 'items, parts, spare parts, spares, stock, inventory, material master, stores',
    'orders.csv': 'orders, purchase orders, open orders, purchasing, deliveries',
    'lots.csv': 'lots, batches, batch stock, lot stock, shelf',
    'monthly-use.csv': 'monthly use, usage, consumption, issues, monthly consumption, withdrawals',
    'shutdowns.csv': 'shutdowns, outages, turnarounds, stops, windows, maintenance windows',
  },
  columns: {
    position:
      'position, tag, tag number, valve, valve tag, valve number, valve id, valve no, equipment, equipment number, asset, asset id, location id',
    line: 'line, production line, system, unit, process unit, ~area, train, skid',
    location: 'location, building, room, floor, ~area, hall, place',
    size: 'size, nominal size, nominal diameter, nominal bore, bore, diameter, valve size, diaphragm size',
    duty: 'duty, service, application, medium, media, process medium, fluid, use case, ~type',
    criticality: 'criticality, critical, priority, risk class, criticality class, importance, safety class',
    steam_cycles_per_week:
      'steam cycles per week, sterilisations per week, sterilizations per week, steam per week, sterilisation cycles per week',
    strokes_per_day:
      'strokes per day, cycles per day, actuations per day, openings per day, operations per day, switching per day',
    hot_cleans_per_week:
      'hot cleans per week, hot cleanings per week, cleanings per week, cleaning cycles per week, washes per week',
    steam_temperature_c:
      'steam temperature, sterilisation temperature, sterilization temperature, SIP temperature, steaming temperature',
    steam_hold_minutes:
      'steam hold, steam hold time, hold time steam, sterilisation time, sterilization time, steaming time',
    hot_clean_temperature_c:
      'hot clean temperature, cleaning temperature, CIP temperature, washing temperature',
    hot_clean_hold_minutes: 'hot clean hold, cleaning time, cleaning hold time, CIP time, CIP hold time',
    service_temperature_c:
      'service temperature, operating temperature, process temperature, medium temperature, working temperature, product temperature',
    accessories: 'accessories, number of accessories, accessory count, instruments, attachments, positioners',
    material_next:
      'material next, next material, new material, future material, material to fit, planned material',
    in_service_since:
      'in service since, commissioned, commissioning date, start of service, installed since, start up date, in operation since, in service from',
    out_of_service_since:
      'out of service since, decommissioned, decommissioning date, end of service, out of operation since, out of service from',
    idle: 'idle, idle periods, idle times, mothballed, out of use',
    material:
      'material, diaphragm material, membrane material, elastomer, compound, rubber, material type, diaphragm',
    lot: 'lot, lot number, batch, batch number, batch no, lot no, maker lot, charge',
    fitted:
      'fitted, date fitted, fitted on, fitting date, installed, install date, installation date, installed on, date installed, mounted, date in, in date, fit date, ~start, ~from, replacement date',
    removed:
      'removed, date removed, removed on, removal date, taken out, date out, out date, uninstalled, dismounted, replaced, replaced on, date replaced, ~end, ~to, ~until',
    reason:
      'reason, removal reason, reason for removal, reason for replacement, cause, why, failure mode, ~type of work, activity type, ~trigger, replacement reason',
    finding:
      'finding, findings, condition, condition found, state, condition at removal, observation, result of inspection, as found, damage, ~remark, appearance',
    last_tight:
      'last tight, last tight test, last leak test, last test passed, last leak test passed, last pressure test, last integrity test, last passed test',
    fitted_by:
      'fitted by, installed by, technician, fitter, mechanic, crew, done by, performed by, worker, mounted by',
    recorded:
      'recorded, recorded on, date recorded, entry date, entered on, created, created on, posting date, booking date, record date, reported on',
    date: 'date, reading date, date of reading, read on, day, ~time, timestamp, measured on, completed on, completion date, date completed, done on, date done, work date, date of work, carried out on, performed on, executed on, job date, ~finished on',
    work: 'work, work done, work performed, work carried out, kind of work, type of work, work type, activity, activity type, task, job, job type, job done, action, action taken, order type, what was done, ~operation',
    order:
      'order number, order no, work order, work order number, work order no, WO, WO number, WO no, job number, job no, maintenance order, order id',
    done_by: 'done by, performed by, carried out by, completed by, executed by',
    strokes:
      'strokes, stroke counter, stroke count, cycles, actuations, switching cycles, valve cycles, openings',
    steam_cycles:
      'steam cycles, sterilisations, sterilizations, steam sterilisations, sterilisation cycles, steam counter, SIP cycles',
    hot_cleans: 'hot cleans, hot cleanings, cleanings, cleaning cycles, washes, CIP cycles, cleaning counter',
    item: 'item, item number, item no, part number, part no, part, material number, article, article number, stock code, catalogue number, spare part number',
    price: 'price, unit price, cost, unit cost, price each, price per piece, standard price',
    price_breaks: 'price breaks, scale prices, quantity prices, volume prices, tier prices',
    lead_time_days:
      'lead time, lead time days, delivery time, procurement time, replenishment time, supply time',
    lead_time_sd_days:
      'lead time sd, lead time standard deviation, lead time variation, lead time deviation, lead time spread',
    pack: 'pack, pack size, package size, packaging unit, pieces per pack, order multiple, pack quantity',
    min_order: 'min order, minimum order, minimum order quantity, minimum quantity, min qty, least order',
    shelf_life_months:
      'shelf life, shelf life months, storage life, storage period, durability, maximum storage',
    shelf_life_left_at_receipt_months:
      'shelf life left at receipt, remaining shelf life, shelf life at receipt, remaining shelf life on delivery',
    on_hand:
      'on hand, stock on hand, stock, quantity on hand, in stock, inventory, stock level, current stock, available, ~quantity',
    emergency_days:
      'emergency days, emergency lead time, express days, rush delivery days, emergency delivery time, express delivery time',
    emergency_extra_cost:
      'emergency extra cost, express surcharge, rush charge, emergency surcharge, emergency cost, express cost',
    approved_substitute:
      'approved substitute, substitute, alternative, alternative part, replacement part, approved alternative',
    quantity: 'quantity, pieces, amount, number of pieces, order quantity, count, open quantity',
    placed: 'placed, ordered, order date, ordered on, date ordered, date placed, purchase date, po date',
    due: 'due, due date, delivery date, expected, promised, expected delivery, eta, confirmed date, delivery due',
    received:
      'received, received on, date received, goods receipt, receipt date, delivered, delivered on, arrival date',
    cured:
      'cured, cure date, cured on, vulcanised, manufactured, production date, date of manufacture, manufacturing date, made on',
    use_by:
      'use by, use before, best before, expiry, expiry date, expires, expiration date, shelf life end, usable until',
    month: 'month, period, year and month, calendar month, posting period, month of use',
    used: 'used, usage, consumption, consumed, issued, withdrawn, quantity used, total use, issues',
    planned: 'planned, of which planned, planned use, for planned work, planned quantity',
    name: 'name, shutdown, shutdown name, description, title, event, window, stop, outage',
    start: 'start, start date, first day, begin, beginning, from, start day',
    end: 'end, end date, last day, finish, finish date, to, until, end day',
    crew_hours:
      'crew hours, man hours, labour hours, hours available, available hours, work hours, capacity hours',
    fitter_hours: 'fitter hours, mechanic hours, mechanical hours, hours of fitters',
    instrument_hours:
      'instrument hours, instrumentation hours, instrument fitter hours, control technician hours',
    most_replacements: 'most replacements, max replacements, maximum replacements, replacement limit',
    most_lines: 'most lines, max lines, maximum lines, lines at once',
    must: 'must, must do, must be replaced, mandatory, mandatory positions',
    not_on: 'not on, excluded, exclude, not to touch, do not touch, blocked',
    lines: 'lines, lines covered, covered lines, affected lines, systems',
    stop_for: 'stop for, stops for, stop reason, stopped for, reason for stop',
  },
  reason: {
    leak: 'leak, leaking, leakage, leaked, leaky, external leak, internal leak, seat leak, passing, drips, dripping, burst, ruptured, not tight',
    failed_test:
      'failed test, test failed, failed, leak test failed, pressure test failed, integrity test failed, failed leak test, failed pressure hold, pressure hold failed',
    condition:
      'condition, condition based, on condition, found bad, bad condition, visual inspection, inspection finding, damage found, worn at inspection',
    scheduled:
      'scheduled, schedule, planned, preventive, preventative, pm, preventive maintenance, routine, periodic, time based, planned replacement, scheduled replacement, interval, overhaul',
    opened:
      'opened, opened for other work, other work, access, opened for inspection, modification, other reason, other repair, actuator repair, body repair, opened anyway',
    retired:
      'retired, decommissioned, scrapped, taken out of service, dismantled, out of service, removed from service',
    unknown: 'unknown, not known, not recorded, not stated, unspecified',
  },
  finding: {
    sound:
      'sound, good, no damage, as new, like new, no finding, no findings, fine, intact, in order, undamaged, no defect',
    worn: 'worn, wear, worn out, abraded, abrasion, thin, used up, eroded',
    cracked: 'cracked, crack, cracks, split, crazing, fissured',
    torn: 'torn, tear, ripped, ruptured, perforated, hole, punctured, burst, broken',
    swollen: 'swollen, swelling, swelled, bloated, softened',
    creased: 'creased, crease, folded, fold, wrinkled, pinched, crushed, misaligned',
    hardened: 'hardened, hard, brittle, embrittled, stiff, perished',
    unknown: 'unknown, not known, not inspected, not recorded, not checked',
  },
  work: {
    replaced:
      'replaced, diaphragm replaced, replacement, diaphragm replacement, replace diaphragm, changed, diaphragm changed, diaphragm change, changeout, renewed, exchanged, new diaphragm',
    opened:
      'opened, valve opened, body opened, opened for other work, opened for inspection, internal inspection, dismantled and reassembled, stripped down, strip and rebuild',
    fitted:
      'fitted, diaphragm fitted, first fitted, installed, new valve fitted, first installation, new installation, initial fitting',
    removed:
      'removed, diaphragm removed, valve removed, taken out, taken out of service, decommissioned, ~dismantled, scrapped',
    retightened:
      'retightened, bolts retightened, retorqued, bolts retorqued, re-torque, tightened, bolts tightened, torqued, torque check',
    inspected:
      'inspected, visual inspection, external inspection, visual check, inspected from outside, walkdown, looked at, routine round',
    tested:
      'found tight, tested tight, leak test passed, pressure test passed, integrity test passed, tightness test passed, test passed, tested ok, ~tested, ~leak test, ~pressure test, ~tightness test',
    calibrated:
      'calibrated, calibration, positioner calibrated, position switch adjusted, adjusted, stroke adjusted, recalibrated',
    cancelled: 'cancelled, canceled, not done, not carried out, void, withdrawn, rejected, deleted',
  },
  criticality: {
    low: 'low, minor, uncritical, not critical, non critical',
    normal: 'normal, medium, standard, moderate, average',
    high: 'high, critical, very high, important, major',
    safety: 'safety, safety critical, safety relevant, hazard, hazardous, dangerous',
  },
  stop_for: {
    replacements: 'replacements, replacement, for replacements, diaphragms, yes',
    anyway: 'anyway, in any case, stops anyway, no, other work',
  },
  units: {
    days: 'days, day',
    weeks: 'weeks, week',
    months: 'months, month',
    years: 'years, year, yrs, yr',
    hours: 'hours, hour, hrs, h',
    minutes: 'minutes, min, mins',
    seconds: 'seconds, sec, s',
    inch: 'inch, inches',
    thousand: 'thousand, thousands',
  },
};
