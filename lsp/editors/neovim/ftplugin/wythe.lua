-- How a wythe file is written, and the server for it.
if vim.b.did_ftplugin then
  return
end
vim.b.did_ftplugin = 1

vim.bo.commentstring = '// %s'
vim.bo.comments = ':///,://'
vim.bo.expandtab = true
vim.bo.shiftwidth = 4
vim.bo.softtabstop = 4
vim.bo.indentexpr = 'wythe#indent(v:lnum)'
vim.bo.indentkeys = '0},0),!^F,o,O'
vim.bo.omnifunc = 'v:lua.vim.lsp.omnifunc'
vim.bo.formatexpr = 'v:lua.vim.lsp.formatexpr()'

local of_library = vim.startswith(vim.api.nvim_buf_get_name(0), 'wythe-std:')
if not vim.lsp.enable and not of_library then
  require('wythe').start(vim.api.nvim_get_current_buf())
end
vim.api.nvim_buf_create_user_command(0, 'WytheDrawing', function(command)
  require('wythe').drawing_command(command.args)
end, { nargs = '?', complete = 'file', desc = 'Write the drawing of what is under the cursor, again after every save' })
