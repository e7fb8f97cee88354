-- 0.11 and later start servers by themselves, as `lsp/wythe.lua` says.
if vim.lsp.enable then
  vim.lsp.enable('wythe')
end

for name, lens in pairs(require('wythe').lenses) do
  vim.lsp.commands[name] = lens
end

-- Texts of the library, which no disk holds, are asked of the server and can be read only.
vim.api.nvim_create_autocmd('BufReadCmd', {
  pattern = '*wythe-std:/*',
  callback = function(event)
    -- a name with one slash is taken for a path of this folder
    require('wythe').read_library(event.buf, event.match:match('wythe%-std:.*'))
  end,
})
