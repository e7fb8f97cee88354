-- 0.11 and later start servers by themselves, as `lsp/wythe.lua` says.
if vim.lsp.enable then
  vim.lsp.enable('wythe')
end
