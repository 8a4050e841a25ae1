import type { LanguageWords } from './types.js';

export const SPANISH: LanguageWords = {
  name: 'Spanish',
  tables: {
    'positions.csv': 'posiciones, válvulas, lista de válvulas, equipos, ubicaciones técnicas',
    'lives.csv':
      'cambios, reemplazos, historial, sustituciones, membranas, diafragmas, historial de mantenimiento, historial de cambios',
    'work-orders.csv':
      'órdenes de trabajo, órdenes, OT, órdenes de mantenimiento, lista de órdenes, historial de órdenes, intervenciones, ~historial de mantenimiento',
    'readings.csv': 'lecturas, contadores, mediciones, lecturas de contadores',
    'items.csv': 'artículos, repuestos, piezas, existencias, almacén, recambios, inventario',
    'orders.csv': 'pedidos, pedidos abiertos, compras, entregas',
    'lots.csv': 'lotes, lotes en almacén',
    'monthly-use.csv': 'consumo, consumo mensual, consumos, salidas',
    'shutdowns.csv': 'paradas, paros, paradas programadas, paradas de planta',
  },
  columns: {
    position:
      'posición, válvula, número de válvula, equipo, etiqueta, código de equipo, ubicación técnica, identificador, nº válvula',
    line: 'línea, línea de producción, unidad, sistema, planta, instalación',
    location: 'ubicación, lugar, edificio, sala, nave, localización, piso',
    size: 'tamaño, diámetro, diámetro nominal, medida, calibre',
    duty: 'servicio, medio, fluido, aplicación, uso, función, producto',
    criticality: 'criticidad, prioridad, importancia, nivel de criticidad, clase de riesgo, riesgo',
    steam_cycles_per_week:
      'ciclos de vapor por semana, esterilizaciones por semana, vapor por semana, esterilizaciones/semana',
    strokes_per_day:
      'carreras por día, ciclos por día, aperturas por día, maniobras por día, maniobras/día, accionamientos por día',
    hot_cleans_per_week:
      'limpiezas por semana, limpiezas en caliente por semana, lavados por semana, limpiezas/semana',
    steam_temperature_c:
      'temperatura de vapor, temperatura del vapor, temperatura de esterilización, temperatura SIP',
    steam_hold_minutes: 'tiempo de esterilización, duración de la esterilización, tiempo de vapor',
    hot_clean_temperature_c: 'temperatura de limpieza, temperatura CIP, temperatura de lavado',
    hot_clean_hold_minutes: 'tiempo de limpieza, duración de la limpieza, tiempo CIP',
    service_temperature_c:
      'temperatura de servicio, temperatura de proceso, temperatura de trabajo, temperatura del producto',
    accessories: 'accesorios, número de accesorios, instrumentos',
    material_next: 'próximo material, material siguiente, nuevo material, material futuro',
    in_service_since: 'en servicio desde, puesta en servicio, puesta en marcha, fecha de puesta en servicio',
    out_of_service_since:
      'fuera de servicio desde, baja, fecha de baja, retirada de servicio, fin de servicio',
    idle: 'inactivo, períodos inactivos, parado, sin uso',
    material:
      'material, material de la membrana, material del diafragma, elastómero, goma, caucho, compuesto, membrana, diafragma',
    lot: 'lote, número de lote, nº lote, lote del fabricante',
    fitted:
      'montado, fecha de montaje, montaje, instalado, fecha de instalación, instalado el, colocado, fecha de colocación, montado el, instalación',
    removed:
      'desmontado, fecha de desmontaje, desmontaje, retirado, fecha de retirada, retirado el, sustituido el, fecha de sustitución, desmontado el, extraído',
    reason:
      'motivo, razón, causa, motivo de cambio, motivo de desmontaje, motivo de retirada, causa de cambio, motivo de sustitución',
    finding:
      'hallazgo, estado, condición, estado encontrado, observación, daño, aspecto, resultado, estado al desmontar',
    last_tight:
      'última prueba estanca, última prueba de estanqueidad, última prueba de fugas, última prueba superada, estanco el',
    fitted_by: 'montado por, instalado por, técnico, mecánico, operario, cuadrilla, realizado por, montador',
    recorded:
      'registrado, registrado el, fecha de registro, creado el, fecha de entrada, anotado el, fecha de contabilización',
    date: 'fecha, fecha de lectura, leído el, día, fecha lectura, realizado el, ejecutado el, fecha de ejecución, fecha del trabajo, fecha de intervención, terminado el, finalizado el, hecho el, fecha de realización',
    work: 'trabajo, tipo de trabajo, trabajo realizado, clase de trabajo, actividad, tarea, acción, intervención, tipo de intervención, ~operación',
    order: 'orden, número de orden, n° de orden, orden de trabajo, OT, nº OT, número OT',
    done_by: 'realizado por, ejecutado por, hecho por, ejecutor',
    strokes: 'carreras, maniobras, aperturas, contador de carreras, accionamientos, ciclos',
    steam_cycles: 'ciclos de vapor, esterilizaciones, ciclos de esterilización, ciclos SIP, ciclos vapor',
    hot_cleans: 'limpiezas en caliente, limpiezas, lavados, ciclos de limpieza, ciclos CIP',
    item: 'artículo, código de artículo, número de artículo, referencia, código, pieza, número de pieza, nº artículo, código de material',
    price: 'precio, precio unitario, coste, costo, coste unitario, precio por pieza',
    price_breaks: 'precios por cantidad, escalas de precio, descuentos por cantidad, precios escalonados',
    lead_time_days:
      'plazo de entrega, plazo, tiempo de entrega, plazo días, plazo de aprovisionamiento, plazo de reposición',
    lead_time_sd_days:
      'desviación del plazo, desviación típica del plazo, variación del plazo, desviación estándar del plazo',
    pack: 'paquete, unidades por paquete, embalaje, tamaño del paquete, envase, unidad de embalaje',
    min_order: 'pedido mínimo, cantidad mínima, cantidad mínima de pedido, mínimo de pedido',
    shelf_life_months:
      'vida útil, vida en almacén, tiempo de almacenamiento, caducidad meses, vida útil en almacén, duración en almacén',
    shelf_life_left_at_receipt_months:
      'vida útil restante, vida restante al recibir, vida útil restante a la recepción',
    on_hand: 'existencias, en existencia, stock, disponible, existencia actual, en almacén, stock actual',
    emergency_days: 'plazo de urgencia, plazo urgente, días de urgencia, entrega urgente días, plazo exprés',
    emergency_extra_cost:
      'coste extra de urgencia, recargo urgente, recargo por urgencia, sobrecoste de urgencia, coste urgente',
    approved_substitute:
      'sustituto, sustituto aprobado, alternativa, artículo alternativo, equivalente aprobado',
    quantity: 'cantidad, número, piezas, unidades, cantidad pedida, cant',
    placed: 'pedido el, fecha de pedido, fecha del pedido, realizado, fecha pedido',
    due: 'previsto, fecha de entrega, entrega prevista, fecha prevista, vencimiento, esperado, fecha entrega',
    received: 'recibido, fecha de recepción, recepción, recibido el, entregado',
    cured:
      'vulcanizado, fecha de vulcanización, fecha de fabricación, fabricado, fabricado el, fecha de producción',
    use_by:
      'usar antes de, caducidad, fecha de caducidad, vence, consumir antes de, fecha de vencimiento, caduca',
    month: 'mes, período, año y mes',
    used: 'usado, consumo, consumido, utilizado, salidas, cantidad consumida',
    planned: 'planificado, previsto, de ello planificado, consumo previsto, programado',
    name: 'nombre, denominación, parada, paro, descripción, título',
    start: 'inicio, fecha de inicio, comienzo, desde, primer día, empieza',
    end: 'fin, fecha de fin, final, hasta, último día, termina',
    crew_hours: 'horas de cuadrilla, horas hombre, horas disponibles, horas de trabajo, horas equipo',
    fitter_hours: 'horas de mecánicos, horas mecánicos, horas montadores, horas de montador',
    instrument_hours: 'horas de instrumentistas, horas instrumentación, horas instrumentistas',
    most_replacements: 'máximo de cambios, cambios máximos, máximo de sustituciones',
    most_lines: 'máximo de líneas, líneas máximas',
    must: 'obligatorio, obligatorias, imprescindible, debe cambiarse',
    not_on: 'excluido, excluidas, no tocar, bloqueado, excepto',
    lines: 'líneas, líneas afectadas, líneas cubiertas, instalaciones',
    stop_for: 'parada por, parada para, motivo de la parada, para por',
  },
  reason: {
    leak: 'fuga, pierde, pérdida, no estanco, fugas, con fuga, gotea, reventado, fuga externa, fuga interna',
    failed_test:
      'prueba fallida, prueba no superada, no pasa la prueba, fallo en la prueba, ensayo fallido, prueba de estanqueidad fallida, no superó la prueba',
    condition: 'estado, por estado, mal estado, por condición, inspección visual, según estado, condición',
    scheduled:
      'programado, preventivo, planificado, rutina, periódico, mantenimiento preventivo, programada, planificada, intervalo',
    opened:
      'abierto, abierta, otro trabajo, otros trabajos, apertura, abierto por otro trabajo, modificación',
    retired: 'retirado de servicio, fuera de servicio, dado de baja, desguazado, desmantelado, baja',
    unknown: 'desconocido, desconocida, no consta, sin datos, no se sabe',
  },
  finding: {
    sound: 'bien, bueno, buen estado, intacto, sin daños, como nuevo, sin defecto, correcto, sano',
    worn: 'desgastado, desgaste, gastado, desgastada, erosionado',
    cracked: 'agrietado, grieta, grietas, agrietada, fisurado, fisura',
    torn: 'roto, rota, rasgado, rotura, desgarrado, perforado, agujero, reventado',
    swollen: 'hinchado, hinchada, hinchazón, ablandado',
    creased: 'arrugado, doblado, pliegue, arrugada, plegado, pellizcado, aplastado',
    hardened: 'endurecido, duro, endurecida, quebradizo, rígido, endurecimiento',
    unknown: 'desconocido, no consta, no inspeccionado, sin datos, no revisado',
  },
  work: {
    replaced:
      'reemplazado, reemplazada, reemplazo, sustituido, sustituida, sustitución, cambio de membrana, membrana cambiada, cambiado, cambiada, cambio, cambio de diafragma, renovada',
    opened:
      'abierto, abierta, apertura, válvula abierta, abierta por otro trabajo, inspección interna, desmontada y montada',
    fitted:
      'montado, montada, montaje, instalado, instalada, instalación, primer montaje, primera instalación, membrana montada',
    removed:
      '~desmontado, ~desmontada, ~desmontaje, retirado, retirada, retirada de servicio, puesta fuera de servicio, dada de baja',
    retightened:
      'reapretado, reapretada, reapriete, pernos reapretados, reapriete de tornillos, apriete de pernos',
    inspected:
      'inspección visual, inspección externa, control visual, revisión visual, ronda, inspección exterior',
    tested:
      'estanca, encontrada estanca, prueba superada, prueba de estanqueidad superada, ensayo superado, ~prueba de estanqueidad, ~prueba de presión, ~probada, ~ensayo de fuga',
    calibrated: 'calibrado, calibrada, calibración, ajustado, ajustada, ajuste, regulación',
    cancelled: 'cancelado, cancelada, anulado, anulada, no realizado, no ejecutado, suspendida',
  },
  criticality: {
    low: 'baja, bajo, menor, no crítico, no crítica',
    normal: 'normal, media, medio, estándar',
    high: 'alta, alto, crítica, crítico, mayor, muy alta',
    safety: 'seguridad, crítico para la seguridad, peligroso, peligrosa',
  },
  stop_for: {
    replacements: 'cambios, sustituciones, reemplazos, sí, membranas',
    anyway: 'de todos modos, en cualquier caso, no, otros trabajos, igualmente',
  },
  units: {
    days: 'días, día',
    weeks: 'semanas, semana, sem',
    months: 'meses, mes',
    years: 'años, año',
    hours: 'horas, hora',
    minutes: 'minutos',
    inch: 'pulgada, pulgadas',
    thousand: 'miles',
  },
};
