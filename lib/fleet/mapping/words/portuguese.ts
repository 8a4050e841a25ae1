import type { LanguageWords } from './types.js';

export const PORTUGUESE: LanguageWords = {
  name: 'Portuguese',
  tables: {
    'positions.csv': 'posições, válvulas, lista de válvulas, equipamentos, locais de instalação',
    'lives.csv':
      'trocas, substituições, histórico, histórico de trocas, membranas, diafragmas, histórico de manutenção',
    'work-orders.csv':
      'ordens de serviço, ordens de trabalho, OS, ordens de manutenção, lista de ordens, histórico de ordens, ~histórico de manutenção',
    'readings.csv': 'leituras, contadores, medições',
    'items.csv': 'artigos, itens, peças, peças de reposição, sobressalentes, estoque, armazém',
    'orders.csv': 'encomendas, pedidos, pedidos em aberto, compras, entregas',
    'lots.csv': 'lotes, lotes em estoque',
    'monthly-use.csv': 'consumo, consumo mensal, consumos, saídas',
    'shutdowns.csv': 'paradas, paragens, paradas programadas, paragens programadas',
  },
  columns: {
    position:
      'posição, válvula, número da válvula, equipamento, etiqueta, código do equipamento, local de instalação, identificação, nº válvula',
    line: 'linha, linha de produção, unidade, sistema, instalação, planta',
    location: 'localização, local, lugar, edifício, sala, prédio, piso, andar',
    size: 'tamanho, diâmetro, diâmetro nominal, dimensão, medida',
    duty: 'serviço, meio, fluido, aplicação, uso, função, produto',
    criticality: 'criticidade, prioridade, importância, classe de risco, risco',
    steam_cycles_per_week: 'ciclos de vapor por semana, esterilizações por semana, esterilizações/semana',
    strokes_per_day:
      'cursos por dia, ciclos por dia, aberturas por dia, acionamentos por dia, manobras por dia, acionamentos/dia',
    hot_cleans_per_week:
      'limpezas por semana, limpezas a quente por semana, lavagens por semana, limpezas/semana',
    steam_temperature_c:
      'temperatura do vapor, temperatura de vapor, temperatura de esterilização, temperatura SIP',
    steam_hold_minutes: 'tempo de esterilização, duração da esterilização, tempo de vapor',
    hot_clean_temperature_c: 'temperatura de limpeza, temperatura CIP, temperatura de lavagem',
    hot_clean_hold_minutes: 'tempo de limpeza, duração da limpeza, tempo CIP',
    service_temperature_c:
      'temperatura de serviço, temperatura de processo, temperatura de operação, temperatura do produto',
    accessories: 'acessórios, número de acessórios, instrumentos',
    material_next: 'próximo material, material seguinte, novo material, material futuro',
    in_service_since:
      'entrada em operação, entrada em funcionamento, em serviço desde, entrada em serviço, em operação desde, data de entrada em serviço, comissionamento',
    out_of_service_since:
      'fora de serviço desde, saída de serviço, desativado, desativado em, fora de operação desde',
    idle: 'inativo, períodos inativos, parado, sem uso',
    material:
      'material, material da membrana, material do diafragma, elastômero, elastómero, borracha, composto, membrana, diafragma',
    lot: 'lote, número do lote, nº lote, lote do fabricante',
    fitted:
      'montado, data de montagem, montagem, montado em, instalado, data de instalação, instalado em, colocado em, data de colocação',
    removed:
      'desmontado, data de desmontagem, desmontagem, desmontado em, removido, data de remoção, removido em, retirado em, data de retirada, substituído em',
    reason:
      'motivo, razão, causa, motivo da troca, motivo da remoção, motivo da substituição, causa da troca',
    finding:
      'achado, estado, condição, estado encontrado, observação, dano, aspecto, aspeto, resultado, estado na remoção',
    last_tight:
      'último teste estanque, último teste de estanqueidade, último teste de vazamento, último ensaio aprovado, estanque em',
    fitted_by:
      'montado por, instalado por, técnico, mecânico, montador, equipe, equipa, executado por, operador',
    recorded:
      'registrado, registrado em, registado em, data de registro, data de registo, criado em, lançado em, registado',
    date: 'data, data da leitura, lido em, dia, data de leitura, executado em, realizado em, data de execução, data da execução, data do serviço, concluído em, data de conclusão, feito em',
    work: 'serviço executado, trabalho, tipo de serviço, tipo de trabalho, trabalho realizado, atividade, tarefa, ação, intervenção, tipo de intervenção',
    order: 'ordem, número da ordem, nº da ordem, ordem de serviço, ordem de trabalho, nº OS, número da OS',
    done_by: 'executado por, realizado por, feito por, executante',
    strokes: 'cursos, acionamentos, manobras, aberturas, contador de cursos, ciclos',
    steam_cycles: 'ciclos de vapor, esterilizações, ciclos de esterilização, ciclos SIP',
    hot_cleans: 'limpezas a quente, limpezas, lavagens, ciclos de limpeza, ciclos CIP',
    item: 'artigo, código do artigo, item, código do item, número do artigo, referência, código, peça, número da peça, código do material',
    price: 'preço, preço unitário, custo, custo unitário, preço por peça',
    price_breaks: 'preços por quantidade, escalões de preço, faixas de preço, descontos por quantidade',
    lead_time_days:
      'prazo de entrega, prazo, tempo de entrega, prazo dias, prazo de fornecimento, tempo de reposição',
    lead_time_sd_days: 'desvio do prazo, desvio padrão do prazo, variação do prazo',
    pack: 'embalagem, peças por embalagem, pacote, tamanho da embalagem, unidades por pacote',
    min_order:
      'pedido mínimo, encomenda mínima, quantidade mínima, quantidade mínima de pedido, mínimo de compra',
    shelf_life_months:
      'validade, vida de prateleira, tempo de armazenagem, validade meses, vida em armazém, prazo de validade',
    shelf_life_left_at_receipt_months:
      'validade restante, validade restante no recebimento, validade restante à receção',
    on_hand: 'em estoque, em stock, estoque, stock, disponível, existências, saldo, estoque atual',
    emergency_days: 'prazo de emergência, prazo urgente, dias de emergência, entrega urgente dias',
    emergency_extra_cost:
      'custo extra de emergência, sobretaxa urgente, acréscimo de urgência, custo de emergência',
    approved_substitute:
      'substituto, substituto aprovado, alternativa, artigo alternativo, equivalente aprovado',
    quantity: 'quantidade, número, peças, unidades, qtd, qtde, quantidade pedida',
    placed: 'encomendado, data do pedido, pedido em, data da encomenda, encomendado em, data de compra',
    due: 'previsto, data de entrega, entrega prevista, data prevista, vencimento, esperado em',
    received: 'recebido, recebido em, data de recebimento, data de receção, entregue em',
    cured:
      'vulcanizado, data de vulcanização, data de fabricação, data de fabrico, fabricado em, data de produção',
    use_by: 'usar até, validade até, data de validade, vencimento, utilizar até, vence em, caducidade',
    month: 'mês, período, ano e mês',
    used: 'usado, consumo, consumido, utilizado, saídas, quantidade consumida',
    planned: 'planejado, planeado, previsto, dos quais planejado, consumo previsto, programado',
    name: 'nome, denominação, parada, paragem, descrição, título',
    start: 'início, data de início, começo, de, desde, primeiro dia',
    end: 'fim, data de fim, término, até, último dia, final',
    crew_hours: 'horas da equipe, horas da equipa, horas homem, horas disponíveis, horas de trabalho',
    fitter_hours: 'horas de mecânicos, horas dos montadores, horas de montador',
    instrument_hours: 'horas de instrumentistas, horas de instrumentação',
    most_replacements: 'máximo de trocas, trocas máximas, máximo de substituições',
    most_lines: 'máximo de linhas, linhas máximas',
    must: 'obrigatório, obrigatórias, deve ser trocado, imprescindível',
    not_on: 'excluído, excluídas, não tocar, bloqueado, exceto',
    lines: 'linhas, linhas afetadas, linhas cobertas, instalações',
    stop_for: 'parada para, paragem para, motivo da parada, para por',
  },
  reason: {
    leak: 'vazamento, fuga, vaza, vazando, não estanque, pinga, fuga externa, vazamento externo, rebentado, estourado',
    failed_test:
      'teste falhou, teste reprovado, reprovado no teste, falha no teste, ensaio falhado, teste de estanqueidade reprovado, não passou no teste',
    condition: 'condição, por condição, mau estado, estado, inspeção visual, conforme estado',
    scheduled:
      'programado, programada, preventivo, preventiva, planejado, planejada, planeado, planeada, rotina, periódico, periódica, manutenção preventiva',
    opened:
      'outros serviços, outro serviço, aberto, aberta, outro trabalho, outros trabalhos, abertura, aberto para outro trabalho, modificação',
    retired: 'desativado, desativada, fora de serviço, sucateado, desmantelado, retirado de serviço, baixa',
    unknown: 'desconhecido, desconhecida, não conhecido, não informado, sem dados, não registrado',
  },
  finding: {
    sound: 'bom, boa, bom estado, intacto, intacta, sem danos, como novo, sem defeito, perfeito, em ordem',
    worn: 'gasto, gasta, desgastado, desgastada, desgaste, erodido',
    cracked: 'rachado, rachada, fissurado, fissura, trincado, trinca, fissuras, rachadura',
    torn: 'rasgado, rasgada, rompido, roto, furado, rasgo, rebentado, quebrado',
    swollen: 'inchado, inchada, inchaço, dilatado, amolecido',
    creased: 'vincado, dobrado, dobrada, vinco, enrugado, amassado, prensado, dobra',
    hardened: 'endurecido, endurecida, duro, dura, ressecado, quebradiço, rígido, ressecada',
    unknown: 'desconhecido, não inspecionado, sem dados, não informado, não verificado',
  },
  work: {
    replaced:
      'trocado, trocada, troca, troca da membrana, troca de membrana, membrana trocada, substituído, substituída, substituição, diafragma substituído, troca do diafragma, renovada',
    opened:
      'aberto, aberta, abertura, válvula aberta, aberta para outro trabalho, inspeção interna, desmontada e remontada',
    fitted:
      'montado, montada, montagem, instalado, instalada, instalação, primeira montagem, primeira instalação, membrana montada',
    removed:
      'removido, removida, remoção, ~desmontado, ~desmontada, ~desmontagem, retirada de serviço, desativada',
    retightened:
      'reapertado, reapertada, reaperto, parafusos reapertados, reaperto dos parafusos, aperto dos parafusos',
    inspected:
      'inspeção visual, inspeção externa, verificação visual, exame visual, ronda, inspeção exterior',
    tested:
      'estanque, encontrada estanque, teste aprovado, teste de estanqueidade aprovado, ensaio aprovado, ~teste de estanqueidade, ~ensaio de estanqueidade, ~teste de pressão, ~testada',
    calibrated: 'calibrado, calibrada, calibração, ajustado, ajuste, aferição, regulagem',
    cancelled: 'cancelado, cancelada, anulado, anulada, não executado, não realizado',
  },
  criticality: {
    low: 'baixa, baixo, menor, não crítico',
    normal: 'normal, média, médio, padrão',
    high: 'alta, alto, crítica, crítico, muito alta',
    safety: 'segurança, crítico para segurança, perigoso, perigosa',
  },
  stop_for: {
    replacements: 'trocas, substituições, sim, membranas',
    anyway: 'de qualquer forma, de qualquer modo, em todo caso, não, outros trabalhos',
  },
  units: {
    days: 'dias, dia',
    weeks: 'semanas, semana, sem',
    months: 'meses, mês',
    years: 'anos, ano',
    hours: 'horas, hora',
    minutes: 'minutos',
    inch: 'polegada, polegadas',
    thousand: 'milhares, mil',
  },
};
