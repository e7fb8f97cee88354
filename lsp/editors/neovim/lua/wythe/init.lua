-- Starts the server for a buffer, and writes the drawing of what is under the cursor to a file that is made anew after edits.
local M = {}

local function settings()
  return vim.g.wythe_settings or vim.empty_dict()
end

--- The servers that run.
local function clients()
  local all = vim.lsp.get_clients and vim.lsp.get_clients() or vim.lsp.get_active_clients()
  return vim.tbl_filter(function(client)
    return client.name == 'wythe'
  end, all)
end

--- Fills a buffer with a text of the library.
function M.read_library(buffer, uri)
  local client = clients()[1]
  local answer = client and client.request_sync('wythe/text', { uri = uri }, 2000, buffer)
  local text = answer and type(answer.result) == 'table' and answer.result.text or ''
  vim.api.nvim_buf_set_lines(buffer, 0, -1, false, vim.split(text, '\n'))
  vim.bo[buffer].buftype = 'nowrite'
  vim.bo[buffer].modified = false
  vim.bo[buffer].modifiable = false
  vim.bo[buffer].filetype = 'wythe'
end

--- Starts the server for the folder of this buffer, or joins the one that runs (0.7 to 0.10; later ones start it themselves).
function M.start(buffer)
  local config = {
    name = 'wythe',
    cmd = { vim.g.wythe_server or 'wythe-lsp' },
    root_dir = vim.fn.fnamemodify(vim.api.nvim_buf_get_name(buffer), ':p:h'),
    settings = { wythe = settings() },
    init_options = settings(),
  }
  if vim.lsp.start then
    return vim.lsp.start(config, { bufnr = buffer })
  end
  for _, client in ipairs(clients()) do
    if client.config.root_dir == config.root_dir then
      vim.lsp.buf_attach_client(buffer, client.id)
      return client.id
    end
  end
  local id = vim.lsp.start_client(config)
  if id then
    vim.lsp.buf_attach_client(buffer, id)
  end
  return id
end

--- Asks for the drawing under the cursor; `done(title, path)` is called when its file is written.
function M.draw(path, done)
  local window = vim.api.nvim_get_current_win()
  local place = vim.api.nvim_win_get_cursor(window)
  local encoding = 'utf-16'
  for _, client in ipairs(clients()) do
    encoding = client.offset_encoding or encoding
  end
  local params = vim.lsp.util.make_position_params(window, encoding)
  vim.lsp.buf_request(0, 'wythe/drawing', params, function(problem, answer)
    if problem then
      vim.notify('wythe: ' .. problem.message, vim.log.levels.WARN)
    elseif type(answer) == 'table' and answer.svg then
      vim.fn.writefile(vim.split(answer.svg, '\n'), path)
      done(answer.title, path)
    else
      local why = type(answer) == 'table' and answer.note or 'nothing to draw at line ' .. place[1]
      vim.notify('wythe: ' .. why, vim.log.levels.INFO)
    end
  end)
end

--- The command `:WytheDrawing [FILE]`.
function M.drawing_command(file)
  local path = file ~= '' and file or vim.fn.tempname() .. '.svg'
  M.draw(path, function(title)
    vim.notify(title .. ': ' .. path)
  end)
  vim.api.nvim_create_autocmd('BufWritePost', {
    group = vim.api.nvim_create_augroup('wythe_drawing', {}),
    pattern = '*.wythe',
    callback = function()
      M.draw(path, function() end)
    end,
  })
end

--- What the lines above declarations do, as `vim.lsp.codelens.run()` asks for it.
M.lenses = {}

local function go(place)
  vim.lsp.util.jump_to_location({ uri = place.uri, range = { start = place.position, ['end'] = place.position } }, 'utf-16')
end

M.lenses['wythe.draw'] = function(command)
  go(command.arguments[1])
  M.drawing_command('')
end

M.lenses['wythe.findings'] = function(command)
  go(command.arguments[1])
  vim.diagnostic.setloclist()
end

M.lenses['wythe.uses'] = function(command)
  vim.fn.setqflist(vim.lsp.util.locations_to_items(command.arguments[3], 'utf-16'))
  vim.cmd('copen')
end

M.lenses['wythe.trace'] = function(command)
  local asked = { command = command.command, arguments = command.arguments }
  vim.lsp.buf_request(0, 'workspace/executeCommand', asked, function(problem, answer)
    local text = problem and problem.message or answer.text or answer.note
    vim.lsp.util.open_floating_preview(vim.split(text, '\n'), 'text', { border = 'single' })
  end)
end

return M
