-- Tells the story of story.json as a person at Neovim would: `nvim -u neovim.lua north.wythe` in a spoilt copy of the house.
-- In a terminal of tmux each step leaves its screen as text in SHOTS.
local here = os.getenv('CLIENTS')
local story = vim.fn.json_decode(vim.fn.readfile(here .. '/story.json'))
vim.opt.runtimepath:prepend(here .. '/../../editors/neovim')
vim.g.wythe_server = os.getenv('WYTHE_LSP')
vim.o.swapfile = false
vim.o.number = true
vim.o.showmode = false
vim.o.completeopt = 'menuone,noselect'
vim.cmd('filetype plugin indent on | syntax on')

local PATIENCE = 20000
local main

--- Says how it goes: in a terminal to a file, for the screen is the editor's.
local function say(text)
  if os.getenv('STORY_LOG') then
    vim.fn.writefile({ text }, os.getenv('STORY_LOG'), 'a')
  else
    io.stdout:write(text .. '\n')
  end
end

local function stop(code)
  vim.cmd(code == 0 and 'qall!' or code .. 'cquit!')
end

--- Goes on with the story after some milliseconds, so that keys and answers are taken as ever.
local function rest(milliseconds)
  vim.defer_fn(function()
    local well, problem = coroutine.resume(main)
    if not well then
      say('FAILED: ' .. tostring(problem))
      stop(1)
    end
  end, milliseconds)
  coroutine.yield()
end

--- Waits until `look` gives something, and gives it.
local function await(what, look)
  for _ = 1, PATIENCE / 20 do
    local found = look()
    if found then
      return found
    end
    rest(20)
  end
  error('waited in vain for ' .. what, 2)
end

local function has(text, part)
  return text:find(part, 1, true) ~= nil
end

--- Puts the cursor on a word of a line, or at the line's first word.
local function go(line, word)
  for number, text in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, false)) do
    if text == line then
      local column = word and text:find(word, 1, true) or text:find('%S')
      vim.api.nvim_win_set_cursor(0, { number, column - 1 })
      vim.cmd('normal! zz')
      rest(50)
      return number
    end
  end
  error('no line `' .. line .. '`', 2)
end

local function line_at(number)
  return vim.api.nvim_buf_get_lines(0, number - 1, number, false)[1]
end

local function shot(name)
  local folder = os.getenv('SHOTS')
  if not folder or not os.getenv('TMUX_PANE') then
    return
  end
  vim.cmd('redraw!')
  rest(150)
  local screen = vim.fn.systemlist({ 'tmux', 'capture-pane', '-p', '-t', os.getenv('TMUX_PANE') })
  vim.fn.writefile(screen, folder .. '/' .. name .. '.txt')
end

--- The text of the window that floats over the others, if one does.
local function floating()
  for _, window in ipairs(vim.api.nvim_list_wins()) do
    if vim.api.nvim_win_get_config(window).relative ~= '' then
      return table.concat(vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(window), 0, -1, false), '\n'), window
    end
  end
end

local function marked(code)
  for _, one in ipairs(vim.diagnostic.get(0)) do
    if one.code == code or (one.user_data and one.user_data.lsp and one.user_data.lsp.code == code) then
      return one
    end
  end
end

local steps = {}

function steps.diagnostics(list)
  for _, wanted in ipairs(list) do
    local mark = await('the mark ' .. wanted.code, function()
      return marked(wanted.code)
    end)
    assert(line_at(mark.lnum + 1) == wanted.line, 'it stands at `' .. line_at(mark.lnum + 1) .. '`')
    assert(has(mark.message, wanted.says), mark.message)
    go(wanted.line)
    vim.diagnostic.open_float({ scope = 'line' })
    shot('diagnostics_' .. wanted.code)
    vim.cmd('normal! l')
    rest(50)
  end
end

-- A face is judged once its text is without mistakes: these come after it is mended.
steps.findings = steps.diagnostics

function steps.hover(list)
  for _, wanted in ipairs(list) do
    go(wanted.line, wanted.word)
    vim.lsp.buf.hover()
    local text = await('the hover of ' .. wanted.word, floating)
    for _, part in ipairs(wanted.says) do
      assert(has(text, part), 'no `' .. part .. '` in: ' .. text)
    end
    shot('hover_' .. wanted.word)
    vim.api.nvim_win_close(select(2, floating()), true)
  end
end

-- What a wall comes to is known once its face can be read.
steps.values = steps.hover

function steps.definition(list)
  local house = vim.api.nvim_get_current_buf()
  for _, wanted in ipairs(list) do
    go(wanted.line, wanted.word)
    vim.lsp.buf.definition()
    await('the place of ' .. wanted.word, function()
      return has(vim.api.nvim_get_current_line(), wanted.at)
    end)
    assert(has(vim.api.nvim_buf_get_name(0), wanted.file), vim.api.nvim_buf_get_name(0))
    assert(vim.bo.modifiable == not wanted.read_only, 'the library can be written')
    shot('definition_' .. wanted.word)
    vim.cmd('buffer ' .. house)
  end
end

function steps.completion(list)
  for _, wanted in ipairs(list) do
    local before = vim.api.nvim_buf_get_lines(0, 0, -1, false)
    go(wanted.below)
    vim.api.nvim_input('o<C-u>' .. wanted.typed)
    await('what was typed', function()
      return vim.api.nvim_get_current_line() == wanted.typed
    end)
    vim.api.nvim_input('<C-x><C-o>')
    await('the menu', function()
      return vim.fn.pumvisible() == 1
    end)
    local offered = {}
    for _, item in ipairs(vim.fn.complete_info({ 'items' }).items) do
      offered[#offered + 1] = item.abbr ~= '' and item.abbr or item.word
    end
    assert(vim.tbl_contains(offered, wanted.offers), vim.inspect(offered))
    shot('completion_' .. wanted.offers)
    vim.api.nvim_input('<C-e><Esc>')
    await('the end of typing', function()
      return vim.api.nvim_get_mode().mode == 'n'
    end)
    vim.api.nvim_buf_set_lines(0, 0, -1, false, before)
  end
end

--- Waits until no mark is left on a line.
local function await_clear(number)
  await('the mark to go', function()
    return #vim.diagnostic.get(0, { lnum = number - 1 }) == 0
  end)
end

function steps.typing(wanted)
  local number = go(wanted.line)
  vim.api.nvim_input('0C' .. wanted.becomes .. '<Esc>')
  await('the line typed', function()
    return line_at(number) == wanted.becomes and vim.api.nvim_get_mode().mode == 'n'
  end)
  await_clear(number)
  shot('typing')
end

function steps.quick_fix(wanted)
  local number = go(wanted.line)
  local shown
  vim.ui.select = function(items, options, choose)
    shown = vim.tbl_map(options.format_item or tostring, items)
    for at, title in ipairs(shown) do
      if has(title, wanted.title) then
        return choose(items[at], at)
      end
    end
    choose(nil)
  end
  await('a mark on the line', function()
    return vim.diagnostic.get(0, { lnum = number - 1 })[1]
  end)
  vim.lsp.buf.code_action()
  await('the line to be mended; offered ' .. vim.inspect(shown), function()
    return line_at(number) == wanted.becomes
  end)
  await_clear(number)
  say('  offered: ' .. table.concat(shown, ' | '))
  shot('quick_fix')
end

function steps.format(wanted)
  local number = go(wanted.line)
  if vim.lsp.buf.format then
    vim.lsp.buf.format({ timeout_ms = PATIENCE })
  else
    vim.lsp.buf.formatting_sync(nil, PATIENCE)
  end
  assert(line_at(number) == wanted.becomes, line_at(number))
end

function steps.rename(wanted)
  local number = go(wanted.line, wanted.word)
  vim.lsp.buf.rename(wanted.to)
  await('the new name', function()
    return has(line_at(number), wanted.to)
  end)
  shot('rename')
end

function steps.drawing(wanted)
  go(wanted.line, wanted.word)
  local path = vim.fn.tempname() .. '.svg'
  local title
  require('wythe').draw(path, function(given)
    title = given
  end)
  await('the drawing', function()
    return title
  end)
  assert(has(title:lower(), wanted.title), title)
  assert(has(table.concat(vim.fn.readfile(path), '\n'), '</svg>'), 'no drawing in ' .. path)
end

function steps.mend_elsewhere(wanted)
  local house = vim.api.nvim_get_current_buf()
  vim.cmd('edit ' .. wanted.file)
  vim.api.nvim_set_current_line(line_at(go(wanted.line)) and wanted.becomes)
  vim.cmd('buffer ' .. house)
  await('the mark ' .. wanted.gone .. ' to go', function()
    return not marked(wanted.gone)
  end)
end

main = coroutine.create(function()
  vim.o.hidden = true
  await('the file', function()
    return vim.bo.filetype == 'wythe'
  end)
  for _, name in ipairs(vim.split(os.getenv('STEPS'), ' ')) do
    local began = vim.loop.hrtime()
    steps[name](story[name])
    say(('%s: well, %.0f ms'):format(name, (vim.loop.hrtime() - began) / 1e6))
  end
  vim.cmd('wall')
  say('the story is told')
  stop(0)
end)

vim.api.nvim_create_autocmd('VimEnter', {
  callback = function()
    vim.defer_fn(function()
      local well, problem = coroutine.resume(main)
      if not well then
        say('FAILED: ' .. tostring(problem))
        stop(1)
      end
    end, 10)
  end,
})
